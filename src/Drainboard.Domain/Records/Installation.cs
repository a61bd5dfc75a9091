using Drainboard.Domain.Accounts;
using Drainboard.Domain.Isolation;
using Drainboard.Domain.Lavatories;
using Drainboard.Domain.Tanks;
using Drainboard.Domain.TurnFit;
using NodaTime;

namespace Drainboard.Domain.Records;

/// <summary>
/// The one row that says whose installation this is, what it is to the log, and which named rules it runs under. A demo
/// database says so here, and only there do demo accounts exist.
/// </summary>
public sealed class Installation
{
    public const int OnlyId = 1;

    /// <summary>As many processes may start at once before the first administrator is made (our choice).</summary>
    public const int LinksOpen = 4;

    private Installation()
    {
    }

    public Installation(string operatorName, bool isDemo, Instant createdAt)
    {
        (Id, OperatorName, IsDemo, CreatedAt) = (OnlyId, operatorName, isDemo, createdAt);
    }

    public int Id { get; private set; }

    public string OperatorName { get; private set; } = "";

    public bool IsDemo { get; private set; }

    public LogMode Mode { get; private set; } = LogMode.BesideLog;

    /// <summary>The approval under which this is the record; empty beside the log.</summary>
    public string ApprovalReference { get; private set; } = "";

    /// <summary>The policy of new deferrals: a preset's name, or that of the operator's own.</summary>
    public string PolicyName { get; private set; } = "us";

    public string RepeatRule { get; private set; } = "3-in-15-days";

    /// <summary>What advice about blockages goes by.</summary>
    public AdviceTerms Advice { get; private set; } = AdviceTerms.Usual;

    /// <summary>What turn fit goes by.</summary>
    public FitTerms Fit { get; private set; } = FitTerms.Usual;

    /// <summary>What waiting for a lavatory is worked out from.</summary>
    public LavatoryTerms Lavatories { get; private set; } = LavatoryTerms.Usual;

    /// <summary>What balances of water and waste begin with.</summary>
    public TankTerms Tanks { get; private set; } = TankTerms.Usual;

    /// <summary>How many toilets the operator wants in service by length of sector; none until it says so.</summary>
    public IReadOnlyList<ToiletMinimum> ToiletMinimums { get; private set; } = [];

    /// <summary>Whoever has one of these roles signs in with a passkey (two factors); none until the operator says so.</summary>
    public IReadOnlyList<Role> PasskeyRoles { get; private set; } = [];

    /// <summary>SHA-256 of the secrets of the one-time set-up links that are open, with spaces between; empty once one was used.</summary>
    public string SetUpSecretHash { get; private set; } = "";

    public Instant CreatedAt { get; private set; }

    public long Version { get; private set; }

    public Refusal? Change(string operatorName, LogMode mode, string approvalReference, string policyName, string repeatRule)
    {
        if (operatorName.Trim().Length == 0)
        {
            return new Refusal("no-operator-name", "Enter the operator's name.");
        }

        if (mode == LogMode.AsRecord && approvalReference.Trim().Length == 0)
        {
            return new Refusal("no-approval", "To run as the record, enter the reference of the approval that allows it. Until then this runs beside the log.");
        }

        (OperatorName, Mode, ApprovalReference, PolicyName, RepeatRule) = (operatorName.Trim(), mode, mode == LogMode.AsRecord ? approvalReference.Trim() : "", policyName, repeatRule);
        return null;
    }

    public void AskPasskeyOf(IEnumerable<Role> roles) => PasskeyRoles = [.. roles.Distinct().Order()];

    public Refusal? ChangeAdvice(AdviceTerms terms)
    {
        if (terms.WhyNot() is { } no)
        {
            return no;
        }

        Advice = terms;
        return null;
    }

    public Refusal? ChangeFit(FitTerms terms)
    {
        if (terms.WhyNot() is { } no)
        {
            return no;
        }

        Fit = terms;
        return null;
    }

    public Refusal? ChangeLavatories(LavatoryTerms terms)
    {
        if (terms.WhyNot() is { } no)
        {
            return no;
        }

        Lavatories = terms;
        return null;
    }

    public Refusal? ChangeToiletMinimums(IReadOnlyList<ToiletMinimum> rules)
    {
        if (ToiletMinimum.WhyNot(rules) is { } no)
        {
            return no;
        }

        ToiletMinimums = rules;
        return null;
    }

    public Refusal? ChangeTanks(TankTerms terms)
    {
        if (terms.WhyNot() is { } no)
        {
            return no;
        }

        Tanks = terms;
        return null;
    }

    /// <summary>One more link opens the installation: every process prints its own, and only the newest few stay open.</summary>
    public void AwaitSetUp(string secretHash) => SetUpSecretHash = string.Join(' ', SetUpSecretHash.Split(' ', StringSplitOptions.RemoveEmptyEntries).Append(secretHash).TakeLast(LinksOpen));

    public bool OpensSetUp(string secretHash) => SetUpSecretHash.Split(' ', StringSplitOptions.RemoveEmptyEntries).Contains(secretHash);

    public void FinishSetUp() => SetUpSecretHash = "";
}
