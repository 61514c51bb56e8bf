using EchoToThickness.Statistics.Describe;

namespace EchoToThickness.Statistics.Spatial;

/// <summary>Variograms, correlation lengths and effective sample size of a map.</summary>
public static class SpatialAnalyser
{
    /// <summary>Examines a map.</summary>
    /// <param name="map">The map.</param>
    /// <param name="settings">How; null for the defaults.</param>
    public static SpatialStructure Analyse(ThicknessMap map, SpatialSettings? settings = null)
    {
        ArgumentNullException.ThrowIfNull(map);
        settings ??= new SpatialSettings();
        MapAxes axes = map.Axes;
        double longest =
            settings.LargestLagMetres > 0
                ? settings.LargestLagMetres
                : 0.25 * Math.Min(axes.AlongCount * axes.AlongPitchMetres, axes.AroundCount * axes.AroundPitchMetres);
        var notes = new List<string>();
        IReadOnlyList<VariogramBin> along = Lags(
            map,
            VariogramDirection.Along,
            longest,
            axes.AlongPitchMetres,
            settings
        );
        IReadOnlyList<VariogramBin> around = Lags(
            map,
            VariogramDirection.Around,
            longest,
            axes.AroundPitchMetres,
            settings
        );
        IReadOnlyList<VariogramBin> diagonal = Lags(
            map,
            VariogramDirection.Diagonal,
            longest,
            Math.Sqrt(axes.AlongPitchMetres * axes.AlongPitchMetres + axes.AroundPitchMetres * axes.AroundPitchMetres),
            settings
        );
        VariogramModel? alongModel = Model(along, settings, "along", notes);
        VariogramModel? aroundModel = Model(around, settings, "around", notes);
        double alongLength = Length(alongModel, along, axes.AlongPitchMetres, "along", notes);
        double aroundLength = Length(aroundModel, around, axes.AroundPitchMetres, "around", notes);
        double nugget = Math.Min(
            alongModel?.Nugget ?? double.PositiveInfinity,
            aroundModel?.Nugget ?? double.PositiveInfinity
        );
        return new SpatialStructure
        {
            Settings = settings,
            Along = along,
            Around = around,
            Diagonal = diagonal,
            AlongModel = alongModel,
            AroundModel = aroundModel,
            AlongCorrelationMetres = alongLength,
            AroundCorrelationMetres = aroundLength,
            NuggetDeviationMetres = double.IsFinite(nugget) ? Math.Sqrt(nugget) : double.NaN,
            EffectiveSampleSize = EffectiveSize(map, alongModel, aroundModel),
            Notes = notes,
        };
    }

    /// <summary>Cells of equal worth but independent: <c>n^2 / sum of all correlations</c>.</summary>
    /// <param name="map">The map; cells that were not measured are taken as spread at random.</param>
    /// <param name="along">Model along; null: independent.</param>
    /// <param name="around">Model around; null: independent.</param>
    /// <remarks>
    /// For lags (a, b) the correlation is that of the model along at the distance stretched so that both ranges agree (geometric
    /// anisotropy). Source: the variance of a mean of correlated values, e.g. Cressie, Statistics for Spatial Data, 1993, 1.3.
    /// </remarks>
    public static double EffectiveSize(ThicknessMap map, VariogramModel? along, VariogramModel? around)
    {
        ArgumentNullException.ThrowIfNull(map);
        int n = map.MeasuredCount;
        VariogramModel? model = along ?? around;
        if (model is null || model.PartialSill <= 0 || n < 2)
            return n;
        double alongRange = (along ?? around)!.PracticalRangeMetres;
        double aroundRange = (around ?? along)!.PracticalRangeMetres;
        double filled = (double)n / map.Count;
        double sum = 0;
        int rows = map.AlongCount;
        int columns = map.AroundCount;
        double stretch = alongRange / aroundRange;
        int mostRows = Math.Min(rows - 1, (int)(2 * alongRange / map.Axes.AlongPitchMetres) + 1);
        int mostColumns = Math.Min(
            map.Axes.WrapsAround ? columns / 2 : columns - 1,
            (int)(2 * aroundRange / map.Axes.AroundPitchMetres) + 1
        );
        for (int a = 0; a <= mostRows; a++)
        {
            double byRow = 0;
            for (int b = 0; b <= mostColumns; b++)
            {
                if (a == 0 && b == 0)
                    continue;
                double x = a * map.Axes.AlongPitchMetres;
                double y = b * map.Axes.AroundPitchMetres * stretch;
                double pairs = map.Axes.WrapsAround ? columns : columns - b;
                bool twice = b > 0 && !(map.Axes.WrapsAround && 2 * b == columns);
                byRow += (twice ? 2 : 1) * pairs * model.Correlation(Math.Sqrt(x * x + y * y));
            }
            sum += (a > 0 ? 2 : 1) * (rows - a) * byRow;
        }
        // Of all pairs of cells, the share filled^2 was measured.
        return n / (1 + filled * sum / map.Count);
    }

    private static IReadOnlyList<VariogramBin> Lags(
        ThicknessMap map,
        VariogramDirection direction,
        double longest,
        double pitch,
        SpatialSettings settings
    )
    {
        int lags = Math.Clamp((int)(longest / pitch), 1, settings.MostLags);
        return EmpiricalVariogram.OfMap(map, direction, lags, settings.Estimator);
    }

    private static VariogramModel? Model(
        IReadOnlyList<VariogramBin> bins,
        SpatialSettings settings,
        string axis,
        List<string> notes
    )
    {
        if (bins.Count < 3)
        {
            notes.Add($"Fewer than three lags {axis}: no variogram was fitted.");
            return null;
        }
        return settings.Shape is { } shape ? VariogramFit.Fit(bins, shape) : VariogramFit.FitBest(bins);
    }

    private static double Length(
        VariogramModel? model,
        IReadOnlyList<VariogramBin> bins,
        double pitch,
        string axis,
        List<string> notes
    )
    {
        if (model is null || model.PartialSill <= 0.02 * model.TotalSill)
            return pitch;
        if (model.PracticalRangeMetres > bins[^1].LagMetres)
            notes.Add(
                $"The walls {axis} still differ more with distance at the largest lag: a trend or a correlation length beyond the lags."
            );
        return Math.Max(pitch, model.PracticalRangeMetres);
    }
}
