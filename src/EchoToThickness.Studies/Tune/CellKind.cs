namespace EchoToThickness.Studies.Tune;

/// <summary>What became of one cell, held against its true wall. Without truth only the first three occur.</summary>
public enum CellKind : byte
{
    /// <summary>No A-scan, or the wall is not known.</summary>
    LeftOut,

    /// <summary>Measured and not gross (without truth: measured).</summary>
    Sound,

    /// <summary>No wall.</summary>
    Missing,

    /// <summary>Gross because the interface, the zero, was taken elsewhere.</summary>
    InterfaceLost,

    /// <summary>Gross, near twice the wall.</summary>
    Doubled,

    /// <summary>Gross, near half the wall.</summary>
    Halved,

    /// <summary>Gross, near another ratio of small numbers: echoes counted wrongly.</summary>
    Skipped,

    /// <summary>Gross and too thick, for another reason.</summary>
    OtherThick,

    /// <summary>Gross and too thin, for another reason.</summary>
    OtherThin,
}
