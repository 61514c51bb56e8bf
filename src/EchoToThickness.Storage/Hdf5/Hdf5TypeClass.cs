namespace EchoToThickness.Storage.Hdf5;

/// <summary>Class of a stored type; numbers as in the HDF5 file format specification, section IV.A.2.d.</summary>
public enum Hdf5TypeClass
{
    /// <summary>Integer.</summary>
    Integer = 0,

    /// <summary>Floating point.</summary>
    Float = 1,

    /// <summary>Time (obsolete).</summary>
    Time = 2,

    /// <summary>String of fixed length.</summary>
    String = 3,

    /// <summary>Bit field.</summary>
    BitField = 4,

    /// <summary>Opaque bytes.</summary>
    Opaque = 5,

    /// <summary>Compound.</summary>
    Compound = 6,

    /// <summary>Reference to an object or a region.</summary>
    Reference = 7,

    /// <summary>Enumeration over an integer.</summary>
    Enumeration = 8,

    /// <summary>Sequence or string of variable length.</summary>
    VariableLength = 9,

    /// <summary>Array.</summary>
    Array = 10,

    /// <summary>A class newer than this reader.</summary>
    Other = 15,
}
