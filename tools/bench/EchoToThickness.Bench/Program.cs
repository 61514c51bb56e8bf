using System.Diagnostics;
using System.Globalization;
using EchoToThickness.Bench;
using EchoToThickness.Measurement;
using EchoToThickness.Procedures;
using EchoToThickness.Signals;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Files;
using EchoToThickness.Storage.Foreign;
using EchoToThickness.Storage.Grids;

BenchOptions options;
try
{
    options = BenchOptions.Parse(args);
}
catch (ArgumentException problem)
{
    Console.Error.WriteLine(problem.Message);
    return 2;
}
string grid = options.Out ?? Path.Combine(Path.GetTempPath(), $"ett-bench-{Environment.ProcessId}.h5");
try
{
    Procedure procedure = ProcedureText.Parse(File.ReadAllText(options.Procedure), options.Procedure);
    var wall = new double[options.Repeat];
    var cpu = new double[options.Repeat];
    StackInfo info = null!;
    string measurer = "";
    for (int pass = 0; pass < options.Repeat; pass++)
    {
        TimeSpan cpuStart = Environment.CpuUsage.TotalTime;
        long start = Stopwatch.GetTimestamp();
        using IAScanSource source = StackOpener.Open(options.File, options.Layout).Single().Source;
        MeasurementPlan plan = MeasurementPlan.Compile(procedure, source.Info);
        using (var sink = new GridFileWriter(grid, options.Flush))
        {
            MeasurementEngine.Run(
                source,
                plan,
                plan.CreateHeader("bench"),
                sink,
                new MeasurementOptions
                {
                    Threads = options.Threads,
                    Kernels = options.Portable ? KernelPath.Portable : null,
                    StackSha256 = options.Hash ? StackHash.StartAsync(options.File) : null,
                }
            );
        }
        wall[pass] = Stopwatch.GetElapsedTime(start).TotalSeconds;
        cpu[pass] = (Environment.CpuUsage.TotalTime - cpuStart).TotalSeconds;
        info = source.Info;
        if (pass == 0)
            measurer = plan.CreateMeasurer().Name;
        // A remembered hash would be read, not computed.
        if (options.Hash)
            File.Delete(StackHash.SidecarOf(options.File));
    }
    double first = wall[0];
    Array.Sort(wall);
    Array.Sort(cpu);
    double median = wall[options.Repeat / 2];
    double bytes = (double)info.Shape.Cells * info.AScanBytes;
    Console.WriteLine(
        string.Create(
            CultureInfo.InvariantCulture,
            $$"""
            {"peer":"toolkit","procedure":"{{Path.GetFileName(options.Procedure)}}","measurer":"{{measurer}}","kernels":"{{(
                options.Portable ? KernelPath.Portable : KernelPaths.Best
            )}}","threads":{{options.Threads}},"hash":{{(options.Hash ? "true" : "false")}},"fsync":{{(
                options.Flush ? "true" : "false"
            )}},"file":"{{Path.GetFileName(options.File)}}","ascans":{{info.Shape.Cells}},"repeat":{{options.Repeat}},"first_s":{{first:F5}},"median_s":{{median:F5}},"best_s":{{wall[0]:F5}},"cpu_median_s":{{cpu[
                options.Repeat / 2
            ]:F5}},"cpu_best_s":{{cpu[0]:F5}},"ascans_per_s":{{info.Shape.Cells / median:F0}},"MB_per_s":{{bytes
                / median
                / 1e6:F1}},"peak_rss_MB":{{Process.GetCurrentProcess().PeakWorkingSet64 / 1048576.0:F1}}}
            """
        )
    );
    return 0;
}
catch (Exception problem) when (problem is StackFormatException or ProcedureException or IOException)
{
    Console.Error.WriteLine(problem.Message);
    return 2;
}
finally
{
    if (options.Out is null)
        File.Delete(grid);
}
