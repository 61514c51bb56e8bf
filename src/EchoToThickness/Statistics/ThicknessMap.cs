using System.Globalization;
using EchoToThickness.Pairing;

namespace EchoToThickness.Statistics;

/// <summary>An immutable map of wall thickness with status, uncertainty and the true metal area of every cell.</summary>
/// <remarks>
/// The one input of all statistics, independent of where it came from. All layers have the shape [along, around], index
/// <c>along * AroundCount + around</c>. A cell takes part when its status is <see cref="CellStatus.Measured"/>, or
/// <see cref="CellStatus.LaminarReflector"/> with a finite full wall; every other cell is only counted.
/// </remarks>
public sealed class ThicknessMap
{
    private readonly double[] _thickness;
    private readonly CellStatus[] _status;
    private readonly double[] _uncertainty;
    private readonly double[] _area;
    private readonly double[]? _noise;
    private readonly double[]? _wrongEcho;

    /// <summary>Checks the layers and keeps copies of them.</summary>
    /// <param name="axes">Places of the cells.</param>
    /// <param name="thicknessMetres">Shape [along, around]; NaN where not measured.</param>
    /// <param name="status">Shape [along, around]; empty: measured where the thickness is a number, not scanned elsewhere.</param>
    /// <param name="standardUncertaintyMetres">Shape [along, around], combined, k = 1; empty for zero.</param>
    /// <param name="areaSquareMetres">Shape [along, around], true metal area; empty for pitch times pitch times the length factor.</param>
    /// <param name="noiseUncertaintyMetres">Shape [along, around]: the part independent from cell to cell; empty when not known apart.</param>
    /// <param name="wrongEchoProbability">Shape [along, around], 0 to 1; empty when not known.</param>
    /// <exception cref="StatisticsException">A layer has another length, or a measured cell has an impossible value.</exception>
    public ThicknessMap(
        MapAxes axes,
        ReadOnlySpan<double> thicknessMetres,
        ReadOnlySpan<CellStatus> status = default,
        ReadOnlySpan<double> standardUncertaintyMetres = default,
        ReadOnlySpan<double> areaSquareMetres = default,
        ReadOnlySpan<double> noiseUncertaintyMetres = default,
        ReadOnlySpan<double> wrongEchoProbability = default
    )
    {
        ArgumentNullException.ThrowIfNull(axes);
        Axes = axes;
        int count = checked(axes.AlongCount * axes.AroundCount);
        CheckLength(thicknessMetres.Length, count, "thickness", false);
        CheckLength(status.Length, count, "status", true);
        CheckLength(standardUncertaintyMetres.Length, count, "uncertainty", true);
        CheckLength(areaSquareMetres.Length, count, "area", true);
        CheckLength(noiseUncertaintyMetres.Length, count, "noise uncertainty", true);
        CheckLength(wrongEchoProbability.Length, count, "wrong-echo probability", true);
        _thickness = thicknessMetres.ToArray();
        _status = status.IsEmpty ? StatusOf(_thickness) : status.ToArray();
        _uncertainty = standardUncertaintyMetres.IsEmpty ? new double[count] : standardUncertaintyMetres.ToArray();
        _area = areaSquareMetres.IsEmpty ? AreaOf(axes) : areaSquareMetres.ToArray();
        _noise = noiseUncertaintyMetres.IsEmpty ? null : noiseUncertaintyMetres.ToArray();
        _wrongEcho = wrongEchoProbability.IsEmpty ? null : wrongEchoProbability.ToArray();
        Check();
    }

    /// <summary>Places of the cells.</summary>
    public MapAxes Axes { get; }

    /// <summary>Cells along.</summary>
    public int AlongCount => Axes.AlongCount;

    /// <summary>Cells around.</summary>
    public int AroundCount => Axes.AroundCount;

    /// <summary>All cells.</summary>
    public int Count => _thickness.Length;

    /// <summary>Cells that take part in statistics.</summary>
    public int MeasuredCount { get; private set; }

    /// <summary>Shape [along, around]: wall in metres, NaN exactly where the cell takes no part.</summary>
    public ReadOnlySpan<double> ThicknessMetres => _thickness;

    /// <summary>Shape [along, around]: what became of each cell.</summary>
    public ReadOnlySpan<CellStatus> Status => _status;

    /// <summary>Shape [along, around]: combined standard uncertainty, metres.</summary>
    public ReadOnlySpan<double> StandardUncertaintyMetres => _uncertainty;

    /// <summary>Shape [along, around]: the part of the uncertainty that is independent from cell to cell; the combined one when not known apart.</summary>
    public ReadOnlySpan<double> NoiseUncertaintyMetres => _noise ?? _uncertainty;

    /// <summary>Whether the independent part of the uncertainty is known apart.</summary>
    public bool KnowsNoise => _noise is not null;

    /// <summary>Shape [along, around]: true metal area, square metres.</summary>
    public ReadOnlySpan<double> AreaSquareMetres => _area;

    /// <summary>Shape [along, around]: probability that the wrong echo was measured; empty when not known.</summary>
    public ReadOnlySpan<double> WrongEchoProbability => _wrongEcho;

    /// <summary>Whether a cell takes part.</summary>
    /// <param name="index">Cell index.</param>
    public bool IsMeasured(int index) => !double.IsNaN(_thickness[index]);

    /// <summary>Place of a cell.</summary>
    /// <param name="index">Cell index.</param>
    public MapPosition PositionOf(int index)
    {
        int along = index / AroundCount;
        int around = index % AroundCount;
        return new MapPosition(along, around, Axes.AlongMetres[along], Axes.AroundMetres[around]);
    }

    /// <summary>The same map with other walls; status, areas and uncertainties stay.</summary>
    /// <param name="thicknessMetres">Shape [along, around]; NaN takes a cell out.</param>
    public ThicknessMap WithThickness(ReadOnlySpan<double> thicknessMetres)
    {
        var status = (CellStatus[])_status.Clone();
        CheckLength(thicknessMetres.Length, Count, "thickness", false);
        for (int k = 0; k < status.Length; k++)
            if (double.IsNaN(thicknessMetres[k]) && status[k] == CellStatus.Measured)
                status[k] = CellStatus.AmbiguousPairing;
        return new ThicknessMap(Axes, thicknessMetres, status, _uncertainty, _area, _noise, _wrongEcho);
    }

    private void Check()
    {
        int measured = 0;
        for (int k = 0; k < _thickness.Length; k++)
        {
            double wall = _thickness[k];
            bool takesPart =
                _status[k] == CellStatus.Measured
                || (_status[k] == CellStatus.LaminarReflector && double.IsFinite(wall));
            if (!takesPart)
            {
                _thickness[k] = double.NaN;
                continue;
            }
            measured++;
            if (!(wall > 0) || !double.IsFinite(wall))
                throw Fault("thickness", k, wall, "a measured cell needs a wall above zero");
            if (!(_uncertainty[k] >= 0) || !double.IsFinite(_uncertainty[k]))
                throw Fault("uncertainty", k, _uncertainty[k], "a measured cell needs an uncertainty of zero or more");
            if (!(_area[k] > 0) || !double.IsFinite(_area[k]))
                throw Fault("area", k, _area[k], "a measured cell needs an area above zero");
            if (_noise is not null && (!(_noise[k] >= 0) || !double.IsFinite(_noise[k])))
                throw Fault(
                    "noise uncertainty",
                    k,
                    _noise[k],
                    "a measured cell needs a noise uncertainty of zero or more"
                );
            if (_wrongEcho is not null && !(_wrongEcho[k] is >= 0 and <= 1))
                throw Fault("wrong-echo probability", k, _wrongEcho[k], "a probability lies between 0 and 1");
        }
        MeasuredCount = measured;
    }

    private StatisticsException Fault(string layer, int index, double value, string remedy) =>
        new(
            string.Create(CultureInfo.InvariantCulture, $"The {layer} of a measured cell is {value}."),
            string.Create(
                CultureInfo.InvariantCulture,
                $"map, layer {layer}, cell [{index / AroundCount}, {index % AroundCount}]"
            ),
            remedy
        );

    private static void CheckLength(int found, int expected, string layer, bool mayBeEmpty)
    {
        if (found != expected && !(mayBeEmpty && found == 0))
            throw new StatisticsException(
                string.Create(CultureInfo.InvariantCulture, $"The layer has {found} cells, the axes have {expected}."),
                $"map, layer {layer}",
                "give one value for each cell"
            );
    }

    private static CellStatus[] StatusOf(double[] thickness)
    {
        var status = new CellStatus[thickness.Length];
        for (int k = 0; k < status.Length; k++)
            status[k] = double.IsNaN(thickness[k]) ? CellStatus.NotScanned : CellStatus.Measured;
        return status;
    }

    private static double[] AreaOf(MapAxes axes)
    {
        var area = new double[axes.AlongCount * axes.AroundCount];
        for (int k = 0; k < area.Length; k++)
            area[k] = axes.AlongPitchMetres * axes.AroundPitchMetres * axes.AlongScale[k % axes.AroundCount];
        return area;
    }
}
