using System.Globalization;

namespace EchoToThickness.Components;

/// <summary>The even raster of a component map: cells along the centre line and around the girth, index <c>along * AroundCount + around</c>. Immutable.</summary>
public sealed class MapRaster
{
    private const long MostCells = 200_000_000;

    /// <summary>Divides the component into whole cells of about the pitches asked for.</summary>
    /// <param name="surface">The component.</param>
    /// <param name="alongPitchMetres">Pitch along.</param>
    /// <param name="aroundPitchMetres">Pitch around.</param>
    /// <exception cref="ComponentException">A pitch is not above zero, or gives too many cells.</exception>
    public MapRaster(ComponentSurface surface, double alongPitchMetres, double aroundPitchMetres)
    {
        ArgumentNullException.ThrowIfNull(surface);
        Surface = surface;
        double length = surface.EndMetres - surface.StartMetres;
        double along = Math.Max(1, Math.Round(length / alongPitchMetres));
        double around = Math.Max(1, Math.Round(surface.WidthMetres / aroundPitchMetres));
        if (!(alongPitchMetres > 0) || !(aroundPitchMetres > 0) || !(along * around <= MostCells))
            throw new ComponentException(
                string.Create(
                    CultureInfo.InvariantCulture,
                    $"Pitches of {alongPitchMetres * 1e3} mm by {aroundPitchMetres * 1e3} mm give {along * around} cells."
                ),
                "pitch of the component map",
                "choose pitches above zero that give at most 200 million cells."
            );
        AlongCount = (int)along;
        AroundCount = (int)around;
        AlongPitchMetres = length / along;
        AroundPitchMetres = surface.WidthMetres / around;
    }

    /// <summary>The component.</summary>
    public ComponentSurface Surface { get; }

    /// <summary>Cells along.</summary>
    public int AlongCount { get; }

    /// <summary>Cells around.</summary>
    public int AroundCount { get; }

    /// <summary>All cells.</summary>
    public int Count => AlongCount * AroundCount;

    /// <summary>Pitch along, metres of the centre line.</summary>
    public double AlongPitchMetres { get; }

    /// <summary>Pitch around, metres of the outer girth.</summary>
    public double AroundPitchMetres { get; }

    /// <summary>Centre of a row of cells along.</summary>
    /// <param name="along">Index along.</param>
    public double AlongMetres(int along) => Surface.StartMetres + (along + 0.5) * AlongPitchMetres;

    /// <summary>Centre of a cell around. Cell 0 begins at the extrados.</summary>
    /// <param name="around">Index around.</param>
    public double AroundMetres(int around) => (around + 0.5) * AroundPitchMetres;

    /// <summary>Centre of a cell.</summary>
    /// <param name="cell">Cell.</param>
    public SurfacePlace PlaceOf(int cell) => new(AlongMetres(cell / AroundCount), AroundMetres(cell % AroundCount));

    /// <summary>True area of a cell, square metres.</summary>
    /// <param name="along">Index along.</param>
    /// <param name="around">Index around.</param>
    public double AreaOf(int along, int around)
    {
        double from = Surface.StartMetres + along * AlongPitchMetres;
        double left = around * AroundPitchMetres;
        return Surface.AreaOf(from, from + AlongPitchMetres, left, left + AroundPitchMetres);
    }

    /// <summary>The cell that holds a place; -1 off the component.</summary>
    /// <param name="place">Place.</param>
    public int CellOf(SurfacePlace place)
    {
        if (!Surface.Holds(place))
            return -1;
        int along = (int)Math.Floor((place.AlongMetres - Surface.StartMetres) / AlongPitchMetres);
        int around = (int)Math.Floor(Surface.Wrap(place.AroundMetres) / AroundPitchMetres);
        return Math.Clamp(along, 0, AlongCount - 1) * AroundCount + Math.Clamp(around, 0, AroundCount - 1);
    }
}
