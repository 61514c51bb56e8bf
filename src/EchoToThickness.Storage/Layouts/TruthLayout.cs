using EchoToThickness.Procedures;

namespace EchoToThickness.Storage.Layouts;

/// <summary>Section <c>[truth]</c>: what is known of each cell of a simulated stack or reference block.</summary>
public sealed record TruthLayout
{
    /// <summary>Wall on the beam axis.</summary>
    [ProcedureKey("thickness", "Wall on the beam axis.")]
    public ValueSource? Thickness { get; init; }

    /// <summary>Smallest wall under the aperture.</summary>
    [ProcedureKey("minimum_thickness", "Smallest wall under the aperture.")]
    public ValueSource? MinimumThickness { get; init; }

    /// <summary>Mean wall under the aperture.</summary>
    [ProcedureKey("mean_thickness", "Mean wall under the aperture.")]
    public ValueSource? MeanThickness { get; init; }

    /// <summary>Depth of a reflector ahead of the back wall.</summary>
    [ProcedureKey("reflector_depth", "Depth of a reflector ahead of the back wall.")]
    public ValueSource? ReflectorDepth { get; init; }

    /// <summary>Couplant path.</summary>
    [ProcedureKey("couplant_path", "Path in the couplant, one way.")]
    public ValueSource? CouplantPath { get; init; }

    /// <summary>Coating.</summary>
    [ProcedureKey("coating_thickness", "Thickness of the coating.")]
    public ValueSource? CoatingThickness { get; init; }

    /// <summary>The layers by the names of <see cref="Stacks.ITruthSource.TruthLayers"/>, in that order, mapped or not.</summary>
    internal IEnumerable<(string Name, ValueSource? Source)> Layers() =>
        [
            ("thickness", Thickness),
            ("minimum_thickness", MinimumThickness),
            ("mean_thickness", MeanThickness),
            ("reflector_depth", ReflectorDepth),
            ("couplant_path", CouplantPath),
            ("coating_thickness", CoatingThickness),
        ];
}
