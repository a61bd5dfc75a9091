using Drainboard.Benchmarks;
using Drainboard.Benchmarks.Load;

return args switch
{
    ["screenshots", var folder] => await Screenshots.TakeAsync(folder),
    ["screenshots", var folder, var only] => await Screenshots.TakeAsync(folder, only),
    ["airline"] => await AirlineRun.RunAsync(),
    ["board", ..] => await BoardTimes.RunAsync(),
    ["circuits", ..] => await CircuitMemory.RunAsync(),
    ["clock", ..] => ClockBenchmarks.Run(),
    ["clock-order", ..] => ClockOrderTimes.Run(),
    ["isolation", ..] => await IsolationTrials.RunAsync(),
    ["isolation-speed", ..] => IsolationTrials.Speed(),
    ["advice", ..] => await AdviceTimes.RunAsync(),
    ["water", ..] => await WaterTimes.RunAsync(),
    ["crew-load", ..] => await CrewLoad.RunAsync(),
    ["crew-faults", ..] => await CrewFaults.RunAsync(args),
    ["faults", var name, ..] => await Faults.RunAsync(name, args[2..]),
    ["plan", ..] => PlanTrials.Run(),
    ["network", ..] => await NetworkTrials.RunAsync(),
    ["fit", ..] => await FitCalibration.RunAsync(),
    ["record", ..] => await RecordTimes.RunAsync(),
    ["repeats-scale", ..] => await RepeatsScale.RunAsync(),
    ["repeats-r", ..] => await RepeatsAgainstR.RunAsync(),
    ["repeats-trials", ..] => RepeatsTrials.Run(),
    ["load", "boards"] => await OpenBoards.RunAsync(),
    ["load", "boards-pages", ..] => await OpenBoardsPages.RunAsync(args[2..]),
    ["load", "start"] => await ColdStart.RunAsync(),
    ["load", "writes"] => await WriteLoad.RunAsync(),
    ["load", "reads"] => await ReadLoad.RunAsync(),
    ["clocks", ..] => await ClocksPageTimes.RunAsync(),
    _ => Help(),
};

static int Help()
{
    Console.WriteLine(
        """
        dotnet run -c Release --project tests/Drainboard.Benchmarks -- WHAT
          screenshots FOLDER [PART]   pictures of the demo for the docs
          airline              two web processes, PostgreSQL and the balancer, as docker-compose.yml starts them, without containers: to look at
          board                the Board's time at 3,000 and at 200,000 defects, on both databases
          circuits             managed heap per open Board
          clock                a deferral clock against bare calendar arithmetic
          clock-order          100,000 clocks with their last visit, worked out and sorted
          isolation            simulated blockages on every layout: first opening right, minutes against two baselines
          isolation-speed      inference on 200 segments, against adding up all states of 18
          water                drinking water, tanks, toilets and planned checks of a tail, against its page
          advice               where to look, the picture and the pours of a fixture, against its page
          plan                 20 shifts of 150 items, 60 turns and 12 technicians: gap after 1, 5 and 10 s, worth against the greedy plan
          network              2,000 carried items over a network: late against the plan without a solver, gap, time to gather
          fit                  whether what turn fit promises of the demo's newer jobs comes true
          record               an append with its seal against a plain insert; a million entries verified against bare SHA-256
          crew-load            the crew's report once the device keeps it: on a slow line and without one
          crew-faults [RUNS] [SEED]  the crew's report under a random schedule of faults, on the real program and a real browser
          faults NAME [TIMES] [SEED]  one kind of fault at random moments while clients write; what was acknowledged is there once
          repeats-scale        2,000,000 write-ups on PostgreSQL: every flag, rate and rank anew, the page, one new write-up
          repeats-trials       simulated fleets with known rogues: false discoveries, power, and what the intervals hold
          repeats-r            random cases against R, where it is installed
          load reads           1,000 tails, 10 thousand, 200 thousand and 2 million closed write-ups on PostgreSQL: Board, Tail and Clocks against hand-written SQL
          load writes          reports and steps over HTTP against the bare statements that write the same rows, both databases
          load boards          300 open Boards in one of two processes: commit to sight, heap, processor
          load start           the published program: its size, and from its start to the first Board
          clocks               the Clocks page with 5,000 running deferrals: time against hand-written SQL, heap per circuit
        """);
    return 2;
}
