using EchoToThickness.Components;
using EchoToThickness.Statistics;
using EchoToThickness.Statistics.Change;
using EchoToThickness.Storage.Grids;

namespace EchoToThickness.Reporting.Inspection;

/// <summary>Compares the survey that is analysed with earlier ones.</summary>
internal static class ChangeRun
{
    private const double DaysPerYear = 365.25;

    public static IReadOnlyList<SurveyChange> Of(StitchedMap later, StatisticsPlan plan, string planFolder)
    {
        ChangePlan settings = plan.Change;
        if (settings.Earlier.Count == 0)
            return [];
        if (!ChangePlan.TryDate(settings.Date, out DateOnly today))
            throw new StatisticsException(
                "The day of this survey is not given.",
                "plan, change.date",
                "write date = \"2026-05-30\"; a rate needs the time between surveys"
            );
        ThicknessMap map = later.ToThicknessMap();
        var surveys = new List<(EarlierSurveyPlan Plan, DateOnly Day)>();
        foreach (EarlierSurveyPlan survey in settings.Earlier)
            if (ChangePlan.TryDate(survey.Date, out DateOnly day) && day < today)
                surveys.Add((survey, day));
            else
                throw new StatisticsException(
                    $"'{survey.Date}' is no day before {settings.Date}.",
                    "plan, change.earlier",
                    "write date = \"2021-05-30\""
                );
        surveys.Sort((a, b) => a.Day.CompareTo(b.Day));
        var changes = new List<SurveyChange>();
        for (int k = 0; k < surveys.Count; k++)
        {
            (EarlierSurveyPlan survey, DateOnly day) = surveys[k];
            string term =
                surveys.Count == 1 ? "long- and short-term"
                : k == 0 ? "long-term"
                : k == surveys.Count - 1 ? "short-term"
                : "in between";
            double years = (today.DayNumber - day.DayNumber) / DaysPerYear;
            changes.Add(Compare(map, plan, Path.GetFullPath(survey.Grid, planFolder), survey.Date, years, term));
        }
        return changes;
    }

    /// <summary>The greater of long-term and short-term rate in a zone (API 570); null where nothing was compared.</summary>
    public static (RateSummary Rate, string Source)? Governing(IReadOnlyList<SurveyChange> changes, string zone)
    {
        (RateSummary Rate, string Source)? governing = null;
        foreach (SurveyChange change in changes.Where(c => c.Term != "in between"))
            if (
                change.Zones.FirstOrDefault(z => z.Name == zone) is { } rate
                && (governing is null || rate.UpperMetresPerYear > governing.Value.Rate.UpperMetresPerYear)
            )
                governing = (rate, $"{change.Term}, since {change.Date}");
        return governing;
    }

    private static SurveyChange Compare(
        ThicknessMap later,
        StatisticsPlan plan,
        string path,
        string date,
        double years,
        string term
    )
    {
        if (!File.Exists(path))
            throw new StatisticsException(
                $"There is no grid {path}.",
                "plan, change.earlier",
                "check the name; a relative path starts at the plan's folder"
            );
        using GridFile grid = GridFile.Open(path);
        StitchedMap stitched = StatisticsRun.Map(grid, plan);
        ThicknessMap earlier = stitched.ToThicknessMap();
        ChangePlan settings = plan.Change;
        SurveyComparison comparison = SurveyComparison.Of(
            earlier,
            later,
            settings.Register
                ? new RegistrationSettings
                {
                    LargestAlongMetres = settings.LargestAlongMetres,
                    LargestAroundMetres = settings.LargestAroundMetres,
                    LargestStretch = settings.LargestStretch,
                }
                : null,
            new ChangeSettings
            {
                Years = years,
                FalseDiscoveryRate = settings.FalseDiscoveryRate,
                OnlyLoss = settings.OnlyLoss,
            },
            settings.PlacementUncertaintyMetres
        );
        MapRaster raster = stitched.Raster;
        SurfaceZone[] zones =
        [
            .. Enumerable.Range(0, raster.Count).Select(c => raster.Surface.ZoneOf(raster.PlaceOf(c))),
        ];
        ThicknessChange change = comparison.Change;
        return new SurveyChange
        {
            Grid = Path.GetFileName(path),
            GridSha256 = StatisticsRun.Sha256(path),
            Date = date,
            Years = years,
            Term = term,
            Registration = comparison.Registration,
            IsRegistered = comparison.IsRegistered,
            PlacementUncertaintyMetres = comparison.PlacementUncertaintyMetres,
            Cells = change.Cells,
            SignificantCells = change.SignificantCells,
            SignificantAreaSquareMetres = change.SignificantAreaSquareMetres,
            RateQuantiles = [.. change.RateQuantiles.Select(q => new RateQuantile(q.Probability, q.MetresPerYear))],
            Zones =
            [
                .. zones
                    .Distinct()
                    .Order()
                    .Where(z => z != SurfaceZone.Whole)
                    .Select(z => RateSummary.Of(ExtremesRun.NameOf(z), change, earlier, c => zones[c] == z))
                    .Append(RateSummary.Of(ExtremesRun.NameOf(SurfaceZone.Whole), change, earlier, _ => true))
                    .OfType<RateSummary>(),
            ],
            Field = change,
            Earlier = earlier,
        };
    }
}
