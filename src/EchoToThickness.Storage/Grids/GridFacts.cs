using EchoToThickness.Grids;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Hdf5;
using EchoToThickness.Storage.Native;

namespace EchoToThickness.Storage.Grids;

/// <summary>What a grid file says of how it was made.</summary>
public sealed record GridFacts
{
    /// <summary>Name of the measured stack, without folder.</summary>
    public required string StackName { get; init; }

    /// <summary>SHA-256 of the stack, lower-case hexadecimal; empty when it was not asked for.</summary>
    public required string StackSha256 { get; init; }

    /// <summary>The procedure, complete with defaults, as TOML.</summary>
    public required string ProcedureText { get; init; }

    /// <summary>SHA-256 of the procedure.</summary>
    public required string ProcedureSha256 { get; init; }

    /// <summary>Version of the program.</summary>
    public required string ProgramVersion { get; init; }

    /// <summary>Velocity used, metres per second.</summary>
    public required double VelocityMetresPerSecond { get; init; }

    /// <summary>Its standard uncertainty, metres per second.</summary>
    public required double VelocityUncertaintyMetresPerSecond { get; init; }

    /// <summary>Where the velocity came from.</summary>
    public required string VelocitySource { get; init; }

    /// <summary>Corrections applied, with their sizes.</summary>
    public IReadOnlyList<string> Corrections { get; init; } = [];

    /// <summary>Warnings.</summary>
    public IReadOnlyList<string> Warnings { get; init; } = [];

    /// <summary>Cells by status, index = value of the status.</summary>
    public IReadOnlyList<long> CountByStatus { get; init; } = [];

    /// <summary>Cells with a thickness.</summary>
    public long WithThickness { get; init; }

    /// <summary>Smallest thickness, metres; NaN when none.</summary>
    public double MinimumThicknessMetres { get; init; } = double.NaN;

    /// <summary>Largest thickness, metres; NaN when none.</summary>
    public double MaximumThicknessMetres { get; init; } = double.NaN;

    /// <summary>The component.</summary>
    public ComponentFacts Component { get; init; } = new();

    /// <summary>Where the line lies on the component.</summary>
    public LinePlacement Placement { get; init; } = new();

    /// <summary>Which cells are side by side.</summary>
    public NeighbourAxes Neighbours { get; init; } = NeighbourAxes.Both;

    internal static void Write(StoredNode node, GridHeader header, GridSummary summary)
    {
        node.SetText("stack", Path.GetFileName(header.Stack.Name));
        node.SetText("stack_sha256", summary.StackSha256);
        node.SetText("procedure", header.ProcedureText);
        node.SetText("procedure_sha256", header.ProcedureSha256);
        node.SetText("program_version", header.ProgramVersion);
        node.Set("velocity", header.VelocityMetresPerSecond).SetText("velocity_units", "m/s");
        node.Set("velocity_uncertainty", header.VelocityUncertaintyMetresPerSecond);
        node.SetText("velocity_uncertainty_units", "m/s");
        node.SetText("velocity_source", header.VelocitySource);
        node.SetTexts("corrections", header.Corrections);
        node.SetTexts("warnings", header.Warnings);
        node.Set("count_by_status", [.. summary.CountByStatus]);
        node.Set("count_with_thickness", summary.WithThickness);
        node.Set("minimum_thickness", summary.MinimumThicknessMetres).SetText("minimum_thickness_units", "m");
        node.Set("maximum_thickness", summary.MaximumThicknessMetres).SetText("maximum_thickness_units", "m");
        node.SetFixed("neighbours", StackLayout.WordOf(StackLayout.Neighbours, header.Stack.Neighbours));
        StackInfoWriter.Component(node, header.Stack.Component);
        StackInfoWriter.Placement(node, header.Stack.Placement);
    }

    internal static GridFacts Read(Hdf5File file, string path)
    {
        FactReader facts = new(file, path);
        return new GridFacts
        {
            StackName = facts.Text("stack") ?? "",
            StackSha256 = facts.Text("stack_sha256") ?? "",
            ProcedureText = facts.Text("procedure") ?? "",
            ProcedureSha256 = facts.Text("procedure_sha256") ?? "",
            ProgramVersion = facts.Text("program_version") ?? "",
            VelocityMetresPerSecond = facts.Required("velocity", "m/s", true, "velocity"),
            VelocityUncertaintyMetresPerSecond = facts.Number("velocity_uncertainty", "m/s", false) ?? double.NaN,
            VelocitySource = facts.Text("velocity_source") ?? "",
            Corrections = file.Attribute(path, "corrections")?.ToTexts() ?? [],
            Warnings = file.Attribute(path, "warnings")?.ToTexts() ?? [],
            CountByStatus = Array.ConvertAll(file.Attribute(path, "count_by_status")?.ToDoubles() ?? [], v => (long)v),
            WithThickness = file.Attribute(path, "count_with_thickness")?.ToInt64() ?? 0,
            MinimumThicknessMetres = file.Attribute(path, "minimum_thickness")?.ToDouble() ?? double.NaN,
            MaximumThicknessMetres = file.Attribute(path, "maximum_thickness")?.ToDouble() ?? double.NaN,
            Component = StackInfoReader.Component(facts),
            Placement = StackInfoReader.Placement(facts),
            Neighbours = facts.Word("neighbours", StackLayout.Neighbours, NeighbourAxes.Both),
        };
    }
}
