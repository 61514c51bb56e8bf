namespace EchoToThickness.Studies.Review;

/// <summary>Why a cell is worth a look.</summary>
[Flags]
public enum DoubtReason
{
    /// <summary>No reason.</summary>
    None = 0,

    /// <summary>The wall differs from that of the cells around it by more than a limit.</summary>
    Jump = 1,

    /// <summary>The wall is close to twice that of the cells around it.</summary>
    Doubled = 2,

    /// <summary>The wall is close to half that of the cells around it.</summary>
    Halved = 4,

    /// <summary>The runner-up was close.</summary>
    LowMargin = 8,

    /// <summary>The stated chance of a wrong echo is high.</summary>
    WrongEcho = 16,

    /// <summary>More than one wall explains the echoes about equally well, and none was chosen.</summary>
    Ambiguous = 32,
}
