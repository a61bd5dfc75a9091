using NodaTime;
using NodaTime.Text;

namespace Drainboard.Testing;

/// <summary>
/// A fleet small enough to know by heart: two stations, one layout with a mast and a tank, three tails, one person of every role at
/// QQAA and some at QQBB. Everything is invented.
/// </summary>
public static class SmallFleet
{
    public const string Password = "a plain test phrase";

    /// <summary>Everybody's second secret.</summary>
    public const string SigningCode = "test-code-5";

    /// <summary>Everybody's PIN at a shared device.</summary>
    public const string Pin = "271828";

    /// <summary>Monday 26 January 2026, 10:00 UTC: the day of the published example of a deferral clock.</summary>
    public static Instant Now { get; } = Instant.FromUtc(2026, 1, 26, 10, 0);

    public static IReadOnlyDictionary<string, string> Files(Instant now) => new Dictionary<string, string>
    {
        ["stations.csv"] =
            """
            code,name,zone,capabilities,staffedFrom,staffedTo
            QQAA,First Strand,Etc/UTC,drains;toilets,00:00,00:00
            QQBB,Second Strand,America/New_York,drains,06:00,22:00
            """,
        ["layouts.csv"] =
            """
            code,version,name,seats
            T1,1,Test layout,100
            """,
        ["fixtures.csv"] =
            """
            layout,version,position,kind,name,area,along,across
            T1,1,PT-1,potableTank,Potable tank,Aft,80,50
            T1,1,K-1,galleySink,Aft galley sink 1,Aft,95,40
            T1,1,S-1,strainer,Strainer of sink 1,Aft,95,42
            T1,1,K-2,galleySink,Aft galley sink 2,Aft,95,60
            T1,1,S-2,strainer,Strainer of sink 2,Aft,95,62
            T1,1,BR-A,drainLine,Aft branch,Aft,92,50
            T1,1,DM-A,drainMast,Aft drain mast,Aft,90,50
            T1,1,B-A,lavatoryBasin,Lav A basin,Forward,8,30
            T1,1,T-A,toilet,Toilet A,Forward,8,25
            T1,1,DL-F,drainLine,Forward drain,Forward,10,40
            T1,1,DM-F,drainMast,Forward drain mast,Forward,12,40
            T1,1,WT-1,wasteTank,Waste tank,Aft,85,55
            """,
        ["connections.csv"] =
            """
            layout,version,water,from,to
            T1,1,supply,PT-1,K-1
            T1,1,supply,PT-1,K-2
            T1,1,supply,PT-1,B-A
            T1,1,supply,PT-1,T-A
            T1,1,drainage,K-1,S-1
            T1,1,drainage,S-1,BR-A
            T1,1,drainage,K-2,S-2
            T1,1,drainage,S-2,BR-A
            T1,1,drainage,BR-A,DM-A
            T1,1,drainage,B-A,DL-F
            T1,1,drainage,DL-F,DM-F
            T1,1,drainage,T-A,WT-1
            """,
        ["tails.csv"] =
            """
            registration,layout,version
            QQ-TSA,T1,1
            QQ-TSB,T1,1
            QQ-TSC,T1,1
            """,
        ["people.csv"] =
            """
            userName,name,roles,stations,onlyTail,authorisationNumber,authorisationKind,organisation,authorisationLastDay
            crew,Crew Person,cabinCrew,QQAA,,,,,
            tech,Tech Person,technician,QQAA,,T-100,company authorisation,Test operator,
            cert,Cert Person,certifyingTechnician,QQAA,,C-200,certifying licence,Test operator,2027-12-31
            cert.none,Unnumbered Person,certifyingTechnician,QQAA,,,,,
            cert.old,Expired Person,certifyingTechnician,QQAA,,C-299,certifying licence,Test operator,2025-12-31
            lead,Lead Person,shiftLead,QQAA,,,,,
            control,Control Person,maintenanceController,QQAA,,M-300,company authorisation,Test operator,
            pilot,Pilot Person,pilot,QQAA,,,,,
            contract,Contract Person,contractTechnician,QQAA,QQ-TSA,X-400,contractor authorisation,Other organisation,
            engineer,Engineer Person,reliabilityEngineer,QQAA,,,,,
            admin,Admin Person,administrator,QQAA,,,,,
            crew.b,Other Crew,cabinCrew,QQBB,,,,,
            tech.b,Other Tech,technician,QQBB,,T-101,company authorisation,Test operator,
            cert.b,Other Cert,certifyingTechnician,QQBB,,C-201,certifying licence,Test operator,
            lead.b,Other Lead,shiftLead,QQBB,,,,,
            control.b,Other Control,maintenanceController,QQBB,,M-301,company authorisation,Test operator,
            pilot.b,Other Pilot,pilot,QQBB,,,,,
            contract.b,Other Contract,contractTechnician,QQBB,,X-401,contractor authorisation,Other organisation,
            engineer.b,Other Engineer,reliabilityEngineer,QQBB,,,,,
            admin.b,Other Admin,administrator,QQBB,,,,,
            """,
        ["bases.csv"] =
            """
            kind,code,title,revision,category,intervalDays,kinds,layouts,installed,required,leakAllowed,placardRequired,placardText,controlRequired,certifyingRequired
            melItem,38-01,Galley sink (invented),1,C,,galleySink,,2,1,no,yes,SINK INOPERATIVE,yes,yes
            melItem,38-02,Galley sink short (invented),1,B,,galleySink,,2,1,no,no,,yes,yes
            melItem,38-03,Water shut off (invented),1,A,2,galleySink;lavatoryBasin,,3,0,yes,no,,yes,yes
            cabinItem,25-01,Sink trim (invented),1,D,,galleySink,,2,0,no,no,,no,no
            """,
        ["conditions.csv"] =
            """
            kind,code,condition,words
            melItem,38-01,maintenance,Looked at the trap: no leak.
            melItem,38-01,operational,Galley crew told.
            """,
        ["turns.csv"] =
            $"""
            key,tail,station,stand,estimatedArrival,estimatedDeparture,onBlocks,offBlocks
            T-A,QQ-TSA,QQAA,14,{At(now, -60)},{At(now, 90)},{At(now, -60)},
            T-B,QQ-TSB,QQAA,15,{At(now, -30)},{At(now, 45)},{At(now, -30)},
            T-C,QQ-TSC,QQBB,3,{At(now, -30)},{At(now, 240)},{At(now, -30)},
            T-A2,QQ-TSA,QQAA,16,{At(now, 1300)},{At(now, 1700)},,
            """,
    };

    private static string At(Instant now, int minutes) => InstantPattern.ExtendedIso.Format(now + Duration.FromMinutes(minutes));
}
