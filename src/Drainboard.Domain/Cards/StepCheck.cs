namespace Drainboard.Domain.Cards;

/// <summary>How a step of a work card is proven.</summary>
public enum StepCheck
{
    /// <summary>Somebody says that it is done.</summary>
    Done,

    /// <summary>A number with a unit and limits.</summary>
    Measurement,

    /// <summary>A timed pour made since the job began.</summary>
    TimedPour,

    /// <summary>A photo.</summary>
    Photo,

    /// <summary>It works as it should: the ops check of the work.</summary>
    OpsCheck,

    /// <summary>Dry at every joint touched: the leak check of the work.</summary>
    LeakCheck,
}
