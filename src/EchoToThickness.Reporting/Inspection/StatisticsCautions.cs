using System.Globalization;
using EchoToThickness.Components;
using EchoToThickness.Statistics.Describe;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>What a reader has to know first.</summary>
internal static class StatisticsCautions
{
    public static IReadOnlyList<string> Of(
        MapDescription description,
        UnmeasuredHeadline? headline,
        CoverageReport coverage,
        PositionReport positions,
        IReadOnlyList<SurveyChange> changes,
        StatisticsPlan plan
    )
    {
        var words = new List<string>();
        double unmeasured = 1 - coverage.Whole.MeasuredSquareMetres / coverage.Whole.RequiredSquareMetres;
        if (unmeasured > 0.001)
            words.Add(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{unmeasured:0.0 %} of the component's area holds no measured wall; the largest disc without one is {coverage.LargestDisc!.DiameterMetres * 1e3:0.0} mm across. Nothing below speaks about it except the statement on unmeasured metal."
                )
            );
        if (positions.Faults.Count > 0)
            words.Add(
                $"{positions.Faults.Count} fault(s) of positions were found{(plan.Stitch.Correct ? "; those named for certain were corrected" : " and not corrected")}: places and areas may be off."
            );
        words.Add(description.Minimum.Note);
        if (plan.Stitch.Rule == PlanStitchRule.Smallest)
            words.Add("Where lines overlap the smallest wall counts, which noise makes thinner than the metal.");
        if (headline is { LowerBoundMetres: null })
            words.Add(
                "The data do not support a statement about all of the unmeasured metal"
                    + (
                        headline.WithoutBound.Count > 0
                            ? $": none for {string.Join(", ", headline.WithoutBound)}."
                            : "."
                    )
            );
        if (headline?.Overruled is { } overruled)
            words.Add($"The bound of unmeasured metal is not the thinnest one: {overruled}.");
        foreach (SurveyChange change in changes.Where(c => !c.IsRegistered))
            words.Add(
                $"The survey of {change.Date} was not laid on this one by correlation: {change.Registration.Note}"
            );
        if (changes.Count > 0)
            words.Add(
                "What is common to a whole survey, such as its velocity or zero, moves all rates together and is not in their significance: compare the mean first."
            );
        words.Add("Screening; needs a competent person.");
        return words;
    }
}
