namespace EchoToThickness.Procedures;

/// <summary>Which echo serves as reference of correlation, filters and fits.</summary>
public enum EchoReference
{
    /// <summary>The interface echo of the same record.</summary>
    [Choice("interface", "The interface echo of the same record: follows coupling and gain, carries its noise.")]
    Interface,

    /// <summary>The model pulse.</summary>
    [Choice("pulse", "The model pulse: a Gaussian spectrum of the stated frequency and bandwidth.")]
    Pulse,

    /// <summary>An echo given in the procedure.</summary>
    [Choice("calibration", "The echo given in calibration_echo, as recorded on a reference block.")]
    Calibration,
}
