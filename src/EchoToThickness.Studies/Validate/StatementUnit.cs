namespace EchoToThickness.Studies.Validate;

/// <summary>In what figures of a statement are shown; they are kept in SI.</summary>
public enum StatementUnit
{
    /// <summary>A length, shown in millimetres.</summary>
    Millimetres,

    /// <summary>A share, shown in percent.</summary>
    Percent,

    /// <summary>A plain number.</summary>
    Number,

    /// <summary>A number in a square metre.</summary>
    PerSquareMetre,
}
