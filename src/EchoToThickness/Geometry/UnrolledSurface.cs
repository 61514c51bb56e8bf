namespace EchoToThickness.Geometry;

/// <summary>Positions on the unrolled outer surface of a component: around a girth that closes on itself, and along a track over a bend.</summary>
public static class UnrolledSurface
{
    /// <summary>A position around brought into [0, girth).</summary>
    /// <param name="aroundMetres">Position around, metres.</param>
    /// <param name="girthMetres">Girth, metres, positive.</param>
    public static double Wrap(double aroundMetres, double girthMetres)
    {
        if (aroundMetres >= 0 && aroundMetres < girthMetres)
            return aroundMetres;
        double wrapped = aroundMetres - girthMetres * Math.Floor(aroundMetres / girthMetres);
        // Rounding may land on the girth itself.
        return wrapped < girthMetres ? wrapped : 0;
    }

    /// <summary>A difference of positions around by the shorter way, within half the girth.</summary>
    /// <param name="differenceMetres">Difference, metres.</param>
    /// <param name="girthMetres">Girth, metres, positive.</param>
    public static double WrapDifference(double differenceMetres, double girthMetres) =>
        differenceMetres - girthMetres * Math.Round(differenceMetres / girthMetres);

    /// <summary>Length on a track of constant girth angle from the start of a bend to a position along; straight before and behind it.</summary>
    /// <param name="alongMetres">Position along the centre line from the start of the bend, metres; any sign.</param>
    /// <param name="bendMetres">Length of the bend on its centre line, metres.</param>
    /// <param name="stretch">Track length of one metre of the centre line on the bend.</param>
    public static double TrackOf(double alongMetres, double bendMetres, double stretch) =>
        alongMetres <= 0 ? alongMetres
        : alongMetres <= bendMetres ? alongMetres * stretch
        : bendMetres * stretch + alongMetres - bendMetres;

    /// <summary>The inverse of <see cref="TrackOf"/>.</summary>
    /// <param name="trackMetres">Length on the track from the start of the bend, metres.</param>
    /// <param name="bendMetres">Length of the bend on its centre line, metres.</param>
    /// <param name="stretch">Track length of one metre of the centre line on the bend.</param>
    public static double AlongOf(double trackMetres, double bendMetres, double stretch) =>
        trackMetres <= 0 ? trackMetres
        : trackMetres <= bendMetres * stretch ? trackMetres / stretch
        : bendMetres + trackMetres - bendMetres * stretch;
}
