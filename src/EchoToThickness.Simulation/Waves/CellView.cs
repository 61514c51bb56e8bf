using EchoToThickness.Simulation.Fields;
using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Waves;

/// <summary>
/// One cell as the echo model sees it: plain data in SI, filled by the renderer, one object a thread. Fields that a cell does not use keep
/// the values of <see cref="Reset"/>.
/// </summary>
public sealed class CellView
{
    private float[] _patch = [];

    /// <summary>Couplant under the aperture's centre, metres.</summary>
    public double CouplantMetres { get; set; }

    /// <summary>Tilt of the array to the surface along the component, radians.</summary>
    public double TiltAlongRadians { get; set; }

    /// <summary>Tilt of the array to the surface around the component, radians.</summary>
    public double TiltAroundRadians { get; set; }

    /// <summary>Outer radius around, metres; infinite when flat.</summary>
    public double RadiusAroundMetres { get; set; }

    /// <summary>Outer radius along, metres; negative where concave, infinite when straight.</summary>
    public double RadiusAlongMetres { get; set; }

    /// <summary>Whether the array's elements lie around the component (lines along) or along it (lines around).</summary>
    public bool ArrayLiesAround { get; set; }

    /// <summary>Metal on the beam axis, along the normal, metres.</summary>
    public double ThicknessMetres { get; set; }

    /// <summary>Samples of the patch along; 0: the wall is flat under the beam.</summary>
    public int PatchAlong { get; private set; }

    /// <summary>Samples of the patch around; 0: the wall is flat under the beam.</summary>
    public int PatchAround { get; private set; }

    /// <summary>True distance of samples along, metres.</summary>
    public double PatchSpacingAlongMetres { get; private set; }

    /// <summary>True distance of samples around, metres.</summary>
    public double PatchSpacingAroundMetres { get; private set; }

    /// <summary>Shape [along, around]: metal under the footprint, metres, centred on the beam axis; empty when the wall is flat.</summary>
    public ReadOnlySpan<float> Patch => _patch.AsSpan(0, PatchAlong * PatchAround);

    /// <summary>Root mean square roughness of the outer surface, metres.</summary>
    public double OuterRoughnessMetres { get; set; }

    /// <summary>Paint; thickness 0: none.</summary>
    public CoatHit Paint { get; set; }

    /// <summary>Scale on the outer surface; thickness 0: none.</summary>
    public CoatHit Scale { get; set; }

    /// <summary>Deposit on the inside; thickness 0: none.</summary>
    public CoatHit Deposit { get; set; }

    /// <summary>A lamination or inclusion under the beam, or null.</summary>
    public LaminarHit? Lamination { get; set; }

    /// <summary>Part of the footprint that it covers, 0 to 1.</summary>
    public double LaminationCover { get; set; }

    /// <summary>What lies behind the wall.</summary>
    public InnerMedium Inner { get; set; }

    /// <summary>Part of the aperture that is coupled: 1 sound, 0 dry.</summary>
    public double CoupledFraction { get; set; }

    /// <summary>Gain of this beam, factor on every echo.</summary>
    public double GainFactor { get; set; }

    /// <summary>Delay of this beam and shot, seconds, added to every echo.</summary>
    public double DelaySeconds { get; set; }

    /// <summary>
    /// First element of the aperture, counted from 0, where the model has gains or delays of single elements (dead ones have gain 0); -1: all
    /// elements work alike.
    /// </summary>
    public int Beam { get; set; }

    /// <summary>Part of the aperture's elements that work, 0 to 1; used only where <see cref="Beam"/> is -1: its square is the gain.</summary>
    public double ActiveFraction { get; set; }

    /// <summary>Whether the part that is not coupled is air on the metal (a bubble), which reflects; otherwise it has no couplant and gives no echo.</summary>
    public bool AirReflects { get; set; }

    /// <summary>Thickness of that air: its echo comes earlier by the couplant that it takes up, metres.</summary>
    public double AirMetres { get; set; }

    /// <summary>Distance from the beam axis to a side wall (an edge of the plate), metres; infinite: none near.</summary>
    public double SideWallMetres { get; set; }

    /// <summary>Whether that side wall lies along the component from the axis, not around.</summary>
    public bool SideWallIsAlong { get; set; }

    /// <summary>Factor on the interface echo alone.</summary>
    public double InterfaceFactor { get; set; }

    /// <summary>Factor on the first back-wall echo alone.</summary>
    public double FirstBackWallFactor { get; set; }

    /// <summary>Amplitude of a mode-converted echo against the first back wall; 0: none.</summary>
    public double ModeConvertedFraction { get; set; }

    /// <summary>Amplitude of the interface echo's own tail against its peak; 0: none.</summary>
    public double RingDownFraction { get; set; }

    /// <summary>Time in which that tail falls by 20 dB, seconds.</summary>
    public double RingDownSeconds { get; set; }

    /// <summary>Sets everything to a sound, flat, bare, fully coupled cell without metal.</summary>
    public void Reset()
    {
        CouplantMetres = TiltAlongRadians = TiltAroundRadians = ThicknessMetres = OuterRoughnessMetres = 0;
        RadiusAroundMetres = RadiusAlongMetres = double.PositiveInfinity;
        ArrayLiesAround = true;
        PatchAlong = PatchAround = 0;
        PatchSpacingAlongMetres = PatchSpacingAroundMetres = 0;
        Paint = Scale = Deposit = default;
        Lamination = null;
        LaminationCover = DelaySeconds = ModeConvertedFraction = RingDownFraction = 0;
        RingDownSeconds = 0.5e-6;
        Inner = InnerMedium.Gas;
        CoupledFraction = GainFactor = ActiveFraction = InterfaceFactor = FirstBackWallFactor = 1;
        Beam = -1;
        AirReflects = true;
        AirMetres = 0.1e-3;
        SideWallMetres = double.PositiveInfinity;
        SideWallIsAlong = false;
    }

    /// <summary>Makes room for a patch; allocates only when it is larger than any before.</summary>
    /// <param name="along">Samples along.</param>
    /// <param name="around">Samples around.</param>
    /// <param name="spacingAlongMetres">True distance along, metres.</param>
    /// <param name="spacingAroundMetres">True distance around, metres.</param>
    /// <returns>Shape [along, around], to be filled with metres of metal.</returns>
    public Span<float> SetPatch(int along, int around, double spacingAlongMetres, double spacingAroundMetres)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(along);
        ArgumentOutOfRangeException.ThrowIfNegative(around);
        if (_patch.Length < along * around)
            _patch = new float[along * around];
        (PatchAlong, PatchAround) = (along, around);
        (PatchSpacingAlongMetres, PatchSpacingAroundMetres) = (spacingAlongMetres, spacingAroundMetres);
        return _patch.AsSpan(0, along * around);
    }
}
