using EchoToThickness.Grids;
using EchoToThickness.Measurement;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Foreign;
using EchoToThickness.Storage.Grids;

namespace EchoToThickness.EndToEnd.Tests;

/// <summary>The program of the README's section on the library; a test compares the text and runs it.</summary>
internal static class LibraryExample
{
    public static GridSummary Run(string stackPath, string gridPath)
    {
        // README begins
        using IAScanSource stack = StackOpener.Open(stackPath)[0].Source;
        var procedure = new Procedure { Wall = new WallSettings { MaximumMetres = 12e-3 } };
        MeasurementPlan plan = MeasurementPlan.Compile(procedure, stack.Info);

        using var grid = new GridFileWriter(gridPath);
        GridHeader header = plan.CreateHeader("my program 1.0");
        GridSummary summary = MeasurementEngine.Run(stack, plan, header, grid, new MeasurementOptions());
        Console.WriteLine($"{summary.WithThickness} walls, thinnest {summary.MinimumThicknessMetres * 1e3:F3} mm");

        var trace = new MeasurementTrace(); // ask one cell why
        MeasurementEngine.Explain(stack, plan, scan: 12, beam: 9, trace);
        foreach ((string stage, string text) in trace.Steps)
            Console.WriteLine($"{stage}: {text}");
        // README ends
        return summary;
    }
}
