using MathNet.Numerics;

namespace Drainboard.Domain.TurnFit;

/// <summary>How long one task takes, in minutes, as a distribution.</summary>
public abstract record TaskTime
{
    private protected TaskTime()
    {
    }

    /// <summary>No shorter time has any chance, or none worth counting (1e-9).</summary>
    public abstract double Least { get; }

    /// <summary>The usual time: by it tasks are handed out.</summary>
    public abstract double Likely { get; }

    /// <summary>The chance that it takes at most so long. Continuous, except for a time that is certain.</summary>
    public abstract double ChanceWithin(double minutes);

    /// <summary>Three points: the best, the likely and the worst case. A beta distribution of the PERT shape: alpha = 1 + 4 (m - a) / (b - a), beta = 1 + 4 (b - m) / (b - a).</summary>
    public sealed record ThreePoint(double Optimistic, double LikelyMinutes, double Pessimistic) : TaskTime
    {
        private double Width => Pessimistic - Optimistic;

        public override double Least => Optimistic;

        public override double Likely => LikelyMinutes;

        public override double ChanceWithin(double minutes) =>
            minutes >= Pessimistic ? 1
            : minutes <= Optimistic ? 0
            : SpecialFunctions.BetaRegularized(1 + (4 * (LikelyMinutes - Optimistic) / Width), 1 + (4 * (Pessimistic - LikelyMinutes) / Width), (minutes - Optimistic) / Width);
    }

    /// <summary>A lognormal time: half are shorter than the median, nine in ten shorter than <paramref name="P90"/>. The two alike: always just that.</summary>
    public sealed record MedianAndP90(double Median, double P90) : TaskTime
    {
        /// <summary>The 90 % quantile of the standard normal distribution.</summary>
        internal const double Z90 = 1.2815515655446004;

        private const double ZLeast = -5.997807015007773;

        private double Sigma => Math.Log(P90 / Median) / Z90;

        public override double Least => Median * Math.Exp(Sigma * ZLeast);

        public override double Likely => Median;

        public override double ChanceWithin(double minutes) =>
            minutes <= 0 ? 0
            : P90 == Median ? (minutes >= Median ? 1 : 0)
            : 0.5 * SpecialFunctions.Erfc(-Math.Log(minutes / Median) / (Sigma * Math.Sqrt(2)));
    }

    /// <summary>One of several kinds of work, which nobody knows before it is opened, each with its chance; the chances add up to one.</summary>
    public sealed record OneOf(IReadOnlyList<(double Chance, TaskTime Time)> Cases) : TaskTime
    {
        public override double Least => Cases.Min(one => one.Time.Least);

        /// <summary>That of the likeliest kind.</summary>
        public override double Likely => Cases.MaxBy(one => one.Chance).Time.Likely;

        public override double ChanceWithin(double minutes) => Cases.Sum(one => one.Chance * one.Time.ChanceWithin(minutes));
    }

    /// <summary>A whole item as one task: what somebody takes on from beginning to end.</summary>
    public sealed record Whole(WorkTime Work) : TaskTime
    {
        public override double Least => Work.Least;

        public override double Likely => Work.Likely;

        public override double ChanceWithin(double minutes) => Work.ChanceWithin(minutes);
    }

    /// <summary>A part of a task, above 0 and below 1: what is left of it once some of its steps are ticked, taken as equally long.</summary>
    public sealed record PartOf(TaskTime Entire, double Part) : TaskTime
    {
        public override double Least => Part * Entire.Least;

        public override double Likely => Part * Entire.Likely;

        public override double ChanceWithin(double minutes) => Entire.ChanceWithin(minutes / Part);
    }

    /// <summary>What is left of a task that has been going on for a while: only times longer than that are still possible.</summary>
    public sealed record Begun(TaskTime Entire, double After) : TaskTime
    {
        private const double Finished = 1e-6;

        public override double Least => 0;

        public override double Likely => Math.Max(0, Entire.Likely - After);

        /// <summary>Where it should long be finished, the next minute is as likely to end it as not (our choice).</summary>
        public override double ChanceWithin(double minutes)
        {
            var before = Entire.ChanceWithin(After);
            return minutes <= 0 ? 0
                : 1 - before < Finished ? 1 - Math.Pow(0.5, minutes)
                : Math.Clamp((Entire.ChanceWithin(After + minutes) - before) / (1 - before), 0, 1);
        }
    }
}
