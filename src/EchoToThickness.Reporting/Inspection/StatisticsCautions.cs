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
        StatisticsPlan plan,
        BorneOutWall? borneOut,
        MinimumStatement minimum
    )
    {
        var words = new List<string>();
        string[] left = [.. plan.Lines.Where(line => !line.Use).Select(line => $"'{line.Name}'")];
        if (left.Length > 0)
            words.Add($"Left out by the plan: line {string.Join(", ", left)}.");
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
        if (coverage.Lost.Count > 0)
            words.Add(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"{coverage.Lost.Count} places were scanned without a wall over three cells or more, the largest {coverage.Lost[0].Disc.DiameterMetres * 1e3:0.0} mm across: a pit narrower than the beam looks like that."
                )
            );
        if (!minimum.IsBorneOut)
            words.Add(
                "The cells beside the smallest wall do not bear it out: look at its A-scan. Where two walls meet under the beam, a single cell may read thinner than either. "
                    + (
                        borneOut is null
                            ? "No wall is borne out."
                            : string.Create(
                                CultureInfo.InvariantCulture,
                                $"The smallest wall that is borne out is {borneOut.WallMetres * 1e3:0.00} mm."
                            )
                    )
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
