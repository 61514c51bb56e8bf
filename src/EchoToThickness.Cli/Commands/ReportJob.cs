using EchoToThickness.Cli.Terminal;
using EchoToThickness.Components;
using EchoToThickness.Measurement;
using EchoToThickness.Procedures;
using EchoToThickness.Reporting.Documents;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Files;
using EchoToThickness.Storage.Grids;

namespace EchoToThickness.Cli.Commands;

/// <summary>One report: a run in, HTML and PDF out.</summary>
internal sealed record ReportJob
{
    public required string RunPath { get; init; }
    public string? HtmlPath { get; init; }
    public string? PdfPath { get; init; }
    public string? GridPath { get; init; }
    public string? StackPath { get; init; }
    public string? LayoutPath { get; init; }
    public int Regions { get; init; }
    public string? Title { get; init; }
    public string? Component { get; init; }
    public PageTemplate? Template { get; init; }

    public void Run(Talk talk)
    {
        ReportRun run = ReportRun.Open(RunPath);
        string html = HtmlPath ?? Path.ChangeExtension(run.JsonPath, ".html");
        string?[] inputs = [run.JsonPath, GridPath, StackPath, LayoutPath];
        Files.CanWrite(html, [], inputs);
        if (PdfPath is not null)
            Files.CanWrite(PdfPath, [html], inputs);
        ReportDocument document =
            run.Kind == ReportKind.Inspection
                ? Inspection(run, talk)
                : StudyReport.Build(run, Title, VersionCommand.Version);
        Files.WriteText(html, HtmlWriter.Write(document, Template));
        if (PdfPath is not null)
            AtomicBytes(PdfPath, PdfWriter.Write(document));
        talk.Say(PdfPath is null ? html : $"{html}, {PdfPath}");
    }

    private static void AtomicBytes(string path, byte[] bytes)
    {
        using AtomicFile file = AtomicFile.Create(path);
        RandomAccess.Write(file.Handle, bytes, 0);
        file.Commit(flushToDisk: false);
    }

    private ReportDocument Inspection(ReportRun run, Talk talk)
    {
        string? grid = Grid(run);
        var sources = new InspectionSources
        {
            GridPath = grid,
            Regions = Regions,
            Title = Title,
            ComponentName = Component,
        };
        if (grid is null)
        {
            talk.Say("note: the grid is not beside the JSON, so the report has no map; name it with --grid.");
            return InspectionReport.Build(run, sources, VersionCommand.Version);
        }
        using GridFile file = GridFile.Open(grid);
        (string? path, string note) = Stack(grid, file.Maps[0].Facts);
        if (path is null)
        {
            talk.Say("note: " + note);
            return InspectionReport.Build(run, sources with { StackNote = note }, VersionCommand.Version);
        }
        using StackLines lines = StackLines.Open(path, LayoutPath, null);
        Procedure procedure = ProcedureText.Parse(file.Maps[0].Facts.ProcedureText, grid);
        var explained = new Dictionary<CellSource, ExplainedCell?>();
        return InspectionReport.Build(
            run,
            sources with
            {
                Stack = lines[0].Source.Info,
                Explain = cell =>
                {
                    if (!explained.TryGetValue(cell, out ExplainedCell? known))
                        explained[cell] = known = Explain(lines, procedure, cell);
                    return known;
                },
            },
            VersionCommand.Version
        );
    }

    private string? Grid(ReportRun run)
    {
        if (GridPath is not null)
        {
            Files.MustExist(GridPath, "grid");
            return GridPath;
        }
        string beside = Path.Combine(run.Folder, run.GridName);
        return run.GridName.Length > 0 && File.Exists(beside) ? beside : null;
    }

    /// <summary>The stack to show A-scans from; one that was not named must be the one that was measured.</summary>
    private (string? Path, string Note) Stack(string grid, GridFacts facts)
    {
        string path =
            StackPath
            ?? Path.Combine(Path.GetDirectoryName(Path.GetFullPath(grid)) ?? ".", Path.GetFileName(facts.StackName));
        if (!File.Exists(path) && !Directory.Exists(path))
            return StackPath is null
                ? (null, $"The stack {facts.StackName} is not beside the grid; --stack names it.")
                : throw new UserException($"There is no stack {StackPath}.", "check the name and the folder.");
        if (facts.StackSha256.Length > 0 && File.Exists(path))
        {
            string sha = StackHash.StartAsync(path).GetAwaiter().GetResult();
            if (sha != facts.StackSha256)
                return StackPath is null
                    ? (null, $"The stack {facts.StackName} beside the grid is another one than was measured.")
                    : throw new UserException(
                        $"{StackPath} has SHA-256 {sha}, the grid was measured from {facts.StackSha256}.",
                        "name the stack that was measured."
                    );
        }
        if (StackPath is null && LayoutPath is null && !IsNative(path))
            return (null, $"The stack {facts.StackName} needs its layout map; --layout names it.");
        return (path, "");
    }

    private static bool IsNative(string path)
    {
        try
        {
            using StackLines lines = StackLines.Open(path, null, null);
            return lines.Count > 0;
        }
        catch (StackFormatException)
        {
            return false;
        }
    }

    private static ExplainedCell? Explain(StackLines lines, Procedure procedure, CellSource cell)
    {
        int number = lines.Count == 1 ? 0 : lines.ToList().FindIndex(l => l.Name == cell.Line);
        if (number < 0)
            return null;
        IAScanSource source = lines[number].Source;
        if (cell.Scan >= source.Info.Shape.Scans || cell.Beam >= source.Info.Shape.Beams)
            return null;
        // The folder of this machine is no part of the report.
        StackInfo info = source.Info with
        {
            Name = Path.GetFileName(source.Info.Name),
        };
        MeasurementPlan plan = MeasurementPlan.Compile(procedure, info);
        MeasurementTrace trace = ExplainCommand.Trace(source, plan, cell.Scan, cell.Beam);
        IReadOnlyList<(string, double)> budget = CellBudget.Of(plan, trace.Result);
        DirectoryInfo folder = Directory.CreateTempSubdirectory("ett-report");
        try
        {
            string figure = Path.Combine(folder.FullName, "cell.png");
            ExplainCommand.Draw(source, plan, trace, figure);
            return new ExplainedCell(
                File.ReadAllBytes(figure),
                ExplainPage.Of(trace, plan, budget),
                trace.Result.ThicknessMetres,
                trace.Result.UncertaintyMetres,
                budget
            );
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }
}
