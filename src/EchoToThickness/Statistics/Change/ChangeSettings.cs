namespace EchoToThickness.Statistics.Change;

/// <summary>How changes between surveys are judged.</summary>
public sealed record ChangeSettings
{
    /// <summary>Years between the surveys, above zero.</summary>
    public required double Years { get; init; }

    /// <summary>Share of false ones among the cells called changed.</summary>
    public double FalseDiscoveryRate { get; init; } = 0.05;

    /// <summary>Standard uncertainty of the wall from the displacement that is left, metres; added to every cell.</summary>
    public double RegistrationUncertaintyMetres { get; init; }

    /// <summary>True: only loss counts as change (one-sided); false: loss and growth.</summary>
    public bool OnlyLoss { get; init; }
}
