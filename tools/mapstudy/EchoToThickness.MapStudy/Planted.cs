namespace EchoToThickness.MapStudy;

/// <summary>What was planted in a cell.</summary>
internal enum Planted : byte
{
    /// <summary>Nothing: a sound wall under sound coupling.</summary>
    None,

    /// <summary>Back-wall echo 1 suppressed, the others as they are: reads twice the wall.</summary>
    Doubled,

    /// <summary>An echo at half of the first back-wall time, which does not repeat: reads half the wall.</summary>
    Halved,

    /// <summary>Back-wall echo 1 weak, an echo at one leg longitudinal and one shear: reads 1.415 times the wall.</summary>
    ModeConverted,

    /// <summary>A laminar reflector that lets part of the sound pass: the full wall stands 18 dB over the noise behind it.</summary>
    Lamination,

    /// <summary>The same, the full wall less than 18 dB over the noise.</summary>
    LaminationOverFaintWall,

    /// <summary>All echoes of the wall weaker by 4 to 22 dB and ragged: a scattering spot.</summary>
    Weak,

    /// <summary>A deep pit of one cell with its own clear train.</summary>
    PitOfOneCell,

    /// <summary>A pit of one cell that sends a single weak echo, nothing from the wall around it.</summary>
    FaintPit,

    /// <summary>A pit narrower than the beam: its bottom and the wall around it are both heard.</summary>
    PartPit,

    /// <summary>An echo of the couplant layer on back-wall echo 1 or 2.</summary>
    CouplantCollision,

    /// <summary>No metal contact: the couplant's own echoes, or nothing.</summary>
    Uncoupled,
}
