using EchoToThickness.Units;

namespace EchoToThickness.Procedures;

/// <summary>Section <c>[pairing]</c>: which echoes give the wall.</summary>
public sealed record PairingSettings
{
    /// <summary>The rule.</summary>
    [ProcedureKey("rule", "How the wall is taken from the echoes.")]
    public PairingRule Rule { get; init; } = PairingRule.Train;

    /// <summary>First echo of a difference.</summary>
    [ProcedureKey("from", "For 'difference': first echo, 'interface' or a gate's name.")]
    public string From { get; init; } = GateSettings.Interface;

    /// <summary>Second echo of a difference.</summary>
    [ProcedureKey("to", "For 'difference': second echo, a gate's name.")]
    public string To { get; init; } = "";

    /// <summary>Gate that holds back wall 1 for the two standard spacings.</summary>
    [ProcedureKey(
        "first_wall",
        "Gate that holds back-wall echo 1 (layers thickness_interface_wall and thickness_wall_wall); left out: the first gate."
    )]
    public string FirstWall { get; init; } = "";

    /// <summary>Gate that holds back wall 2.</summary>
    [ProcedureKey("second_wall", "Gate that holds back-wall echo 2; left out: the second gate, if there is one.")]
    public string SecondWall { get; init; } = "";

    /// <summary>Largest difference between two spacings that still agree, metres.</summary>
    [ProcedureKey(
        "agreement",
        "Largest difference between interface-to-wall and wall-to-wall that counts as agreement.",
        Dimension.Length,
        Minimum = 0
    )]
    public double AgreementMetres { get; init; } = 0.1e-3;

    /// <summary>Echoes under this signal-to-noise ratio are not believed, decibels.</summary>
    [ProcedureKey("minimum_snr", "Echoes with a lower peak-to-noise ratio are not believed.", Dimension.Decibel)]
    public double MinimumSnrDecibels { get; init; } = 10;
}
