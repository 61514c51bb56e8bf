namespace EchoToThickness.Statistics.Change;

/// <summary>Two surveys laid on each other and compared.</summary>
public sealed record SurveyComparison
{
    /// <summary>Where the correlation would lay the later survey.</summary>
    public required Registration Registration { get; init; }

    /// <summary>Whether it was laid there; else the datum of both surveys decided.</summary>
    public required bool IsRegistered { get; init; }

    /// <summary>Standard uncertainty of places that was reckoned with, metres.</summary>
    public required double PlacementUncertaintyMetres { get; init; }

    /// <summary>Difference, significance and rate on the cells of the earlier survey.</summary>
    public required ThicknessChange Change { get; init; }

    /// <summary>Lays the later survey on the earlier one and compares.</summary>
    /// <param name="earlier">Earlier survey.</param>
    /// <param name="later">Later survey; its pitch may differ.</param>
    /// <param name="registration">How far they may be displaced; null: not at all, the datum decides.</param>
    /// <param name="change">Years between, rate of false discoveries, one or two sides.</param>
    /// <param name="placementUncertaintyMetres">
    /// Standard uncertainty of places; null: a tenth of a cell where they were registered (what the method leaves on test surfaces), else one cell.
    /// </param>
    /// <exception cref="StatisticsException">Too little is measured in both, or no uncertainty is known.</exception>
    /// <remarks>A registration that is not reliable is reported and not applied.</remarks>
    public static SurveyComparison Of(
        ThicknessMap earlier,
        ThicknessMap later,
        RegistrationSettings? registration,
        ChangeSettings change,
        double? placementUncertaintyMetres = null
    )
    {
        ArgumentNullException.ThrowIfNull(earlier);
        ArgumentNullException.ThrowIfNull(later);
        Registration found = registration is null
            ? new Registration(0, 0, 0, double.NaN, double.NaN, 0, false, "Not registered: the datum decides.")
            : SurveyRegistration.Find(earlier, later, registration);
        Registration used = found.IsReliable ? found : found with { AlongMetres = 0, AroundMetres = 0, Stretch = 0 };
        double cell = Math.Max(earlier.Axes.AlongPitchMetres, earlier.Axes.AroundPitchMetres);
        double placement = placementUncertaintyMetres ?? (found.IsReliable ? 0.1 : 1) * cell;
        ThicknessMap moved = SurveyRegistration.WithPlacementUncertainty(
            SurveyRegistration.Resample(earlier, later, used),
            placement
        );
        return new SurveyComparison
        {
            Registration = found,
            IsRegistered = found.IsReliable,
            PlacementUncertaintyMetres = placement,
            Change = ChangeAnalyser.Compare(earlier, moved, change),
        };
    }
}
