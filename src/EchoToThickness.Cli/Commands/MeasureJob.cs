using System.Globalization;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Grids;
using EchoToThickness.Measurement;
using EchoToThickness.Pairing;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Files;
using EchoToThickness.Storage.Grids;

namespace EchoToThickness.Cli.Commands;

/// <summary>One run of the main job: stack and procedure in, grid (and on request CSV and map) out.</summary>
internal sealed record MeasureJob
{
    public required string StackPath { get; init; }
    public string? LayoutPath { get; init; }
    public string? Line { get; init; }
    public string? ProcedurePath { get; init; }
    public required string GridPath { get; init; }
    public string? CsvPath { get; init; }
    public string? MapPath { get; init; }
    public double? LimitMetres { get; init; }
    public int Threads { get; init; }
    public bool Force { get; init; }
    public bool Quiet { get; init; }

    /// <summary>Measures every line that is meant.</summary>
    /// <returns>Line name and summary, in order.</returns>
    public IReadOnlyList<(string Line, GridSummary Summary)> Run(Talk talk, CancellationToken cancellation)
    {
        CheckOutputs();
        Procedure procedure = Files.ReadProcedure(ProcedurePath);
        using StackLines lines = StackLines.Open(StackPath, LayoutPath, Line);
        if (MapPath is not null)
            _ = lines.Only(StackPath); // a map is of one line
        Task<string>? hash = File.Exists(StackPath) ? StackHash.StartAsync(StackPath, cancellation) : null;
        int threads = Threads > 0 ? Threads : Environment.ProcessorCount;
        DateTimeOffset started = TimeProvider.System.GetUtcNow();
        var done = new List<(string Line, GridSummary Summary)>();
        var pages = new List<string>();
        using (var progress = new ProgressLine(talk, "measuring"))
        {
            if (lines.Count == 1)
            {
                using var writer = new GridFileWriter(GridPath);
                Measure(lines[0], writer);
            }
            else
            {
                using var writer = new GridCollectionWriter(GridPath);
                foreach ((string Name, IAScanSource Source) line in lines)
                    Measure(line, writer.AddLine(line.Name.Replace('/', '_')));
                writer.Complete();
            }
            WriteLog(started, progress.Elapsed, threads, lines.Cells, hash);
            pages.Insert(0, Headline(lines.Cells, progress.Elapsed));

            void Measure((string Name, IAScanSource Source) line, IGridSink writer)
            {
                MeasurementPlan plan = Plan(procedure, ProcedurePath, line.Source.Info, talk);
                GridHeader header = plan.CreateHeader(VersionCommand.Version);
                var sink = new CountingSink(writer);
                GridSummary summary = MeasurementEngine.Run(
                    line.Source,
                    plan,
                    header,
                    sink,
                    new MeasurementOptions
                    {
                        Threads = threads,
                        Progress = Quiet ? null : progress.Report,
                        StackSha256 = hash,
                        Cancellation = cancellation,
                    }
                );
                done.Add((line.Name, summary));
                pages.Add(Summary(lines.Count > 1 ? line.Name : "", plan, summary, sink.MedianMetres()));
            }
        }
        Further();
        if (!Quiet)
            talk.Words.Write(string.Concat(pages));
        return done;
    }

    /// <summary>Checks a procedure against a stack, says what is doubtful, and compiles it.</summary>
    public static MeasurementPlan Plan(Procedure procedure, string? procedurePath, StackInfo stack, Talk talk)
    {
        MeasurementPlan plan = Files.About(procedurePath, () => MeasurementPlan.Compile(procedure, stack));
        foreach (string warning in plan.Warnings)
            talk.Say("warning: " + warning);
        return plan;
    }

    private void CheckOutputs()
    {
        string?[] inputs = [StackPath, LayoutPath, ProcedurePath];
        Files.CanWrite(GridPath, [], inputs);
        if (CsvPath is not null)
            Files.CanWrite(CsvPath, [GridPath, RunLog.SidecarOf(GridPath)], inputs);
        if (MapPath is not null)
        {
            Files.IsFigure(MapPath);
            Files.CanWrite(MapPath, [GridPath, CsvPath], inputs);
        }
        else if (LimitMetres is not null)
            throw new UserException(
                "--limit draws an outline on the map, and no map is asked for.",
                "add --map FILE, or leave --limit out."
            );
        if (!Force && File.Exists(GridPath) && !Files.IsGrid(GridPath))
            throw new UserException(
                $"{GridPath} exists and is not a grid of this program.",
                "choose another name, or add --force to replace it."
            );
    }

    private void WriteLog(DateTimeOffset started, TimeSpan took, int threads, long cells, Task<string>? hash) =>
        RunLog.Write(
            GridPath,
            started,
            took.TotalSeconds,
            threads,
            [
                new("program", $"{CommandLineProgram.Name} {VersionCommand.Version}"),
                new("stack", StackPath),
                new("stack_sha256", hash?.GetAwaiter().GetResult() ?? ""),
                new("layout", LayoutPath ?? ""),
                new("procedure", ProcedurePath ?? "(defaults)"),
                new("ascans", cells.ToString(CultureInfo.InvariantCulture)),
            ]
        );

    private void Further()
    {
        if (CsvPath is not null)
        {
            using GridFile grid = GridFile.Open(GridPath);
            GridCsvWriter.WriteLong(grid, CsvPath);
        }
        if (MapPath is not null)
            MapDrawing.Save(GridPath, Line, MapPath, LimitMetres);
    }

    private string Headline(long cells, TimeSpan took) =>
        TextLayout.Wrap(
            $"{GridPath}: {StatusWords.Count(cells)} cells in {ProgressLine.Duration(took.TotalSeconds)} "
                + $"({ProgressLine.Rate(cells / Math.Max(took.TotalSeconds, 1e-9))})",
            Talk.Columns
        );

    private static string Summary(string line, MeasurementPlan plan, GridSummary summary, double median)
    {
        long cells = plan.Stack.Shape.Cells;
        var rows = new List<(string, string)>();
        if (line.Length > 0)
            rows.Add(("line", line));
        for (int status = 0; status < summary.CountByStatus.Count; status++)
        {
            long count = summary.CountByStatus[status];
            if (count > 0)
                rows.Add(
                    (
                        StatusWords.Of((CellStatus)status),
                        $"{StatusWords.Count(count)} ({StatusWords.Percent((double)count / cells)})"
                    )
                );
        }
        rows.Add(
            (
                "wall",
                !plan.Layers.Contains(GridLayer.Thickness)
                    ? "not asked for (the procedure's [output] leaves the layer out)"
                : summary.WithThickness == 0 ? "nowhere measured"
                : $"smallest {StatusWords.Millimetres(summary.MinimumThicknessMetres)}, median {StatusWords.Millimetres(median)}, "
                    + $"largest {StatusWords.Millimetres(summary.MaximumThicknessMetres)}"
            )
        );
        rows.Add(
            (
                "velocity",
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{plan.Velocity.MetresPerSecond:F1} +- {plan.Velocity.UncertaintyMetresPerSecond:F1} m/s ({plan.Velocity.Source})"
                )
            )
        );
        rows.AddRange(plan.Velocity.Corrections.Select(c => ("correction", c)));
        return TextLayout.List(rows, Talk.Columns);
    }
}
