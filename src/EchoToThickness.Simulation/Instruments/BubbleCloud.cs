using EchoToThickness.Simulation.Random;
using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Instruments;

/// <summary>
/// A Poisson process of bubbles in a region, found square by square without storing it: each square of a lattice draws its number of
/// bubbles and their places from counters.
/// </summary>
internal sealed class BubbleCloud
{
    private readonly SurfaceRectangle _region;
    private readonly double _largestRadiusMetres;
    private readonly double _diameterMetres;
    private readonly double _sideAlongMetres;
    private readonly double _sideAroundMetres;
    private readonly double _meanInSquare;
    private readonly int _squaresAround;
    private readonly double _girthMetres;
    private readonly ulong _seed;
    private readonly int _index;

    public BubbleCloud(BubbleRegion bubbles, ComponentShape shape, ulong seed, int index)
    {
        _region = SurfaceRectangle.Of(shape, bubbles.Along, bubbles.Around, bubbles.Length, bubbles.Width);
        _diameterMetres = bubbles.DiameterMetres;
        _largestRadiusMetres = 0.75 * bubbles.DiameterMetres;
        // Squares that hold half a bubble on average keep the search short; they are not smaller than the largest bubble.
        double side = bubbles.DensityPerSquareMetre > 0 ? Math.Sqrt(0.5 / bubbles.DensityPerSquareMetre) : 1;
        _sideAlongMetres = _sideAroundMetres = Math.Max(side, 2 * _largestRadiusMetres);
        _girthMetres = _region.GirthMetres;
        if (double.IsFinite(_girthMetres))
        {
            _squaresAround = Math.Max(1, (int)(_girthMetres / _sideAroundMetres));
            _sideAroundMetres = _girthMetres / _squaresAround;
        }
        _meanInSquare = bubbles.DensityPerSquareMetre * _sideAlongMetres * _sideAroundMetres;
        _seed = seed;
        _index = index;
    }

    /// <summary>Bubbles that may touch a rectangle, at most as many as fit.</summary>
    /// <returns>How many were written; places are unrolled next to the point.</returns>
    public int Near(Scenes.SurfacePoint point, double halfAlongMetres, double halfAroundMetres, Span<Disc> discs)
    {
        if (!_region.Touches(point, halfAlongMetres + _largestRadiusMetres, halfAroundMetres + _largestRadiusMetres))
            return 0;
        int found = 0;
        int firstA = (int)
            Math.Floor((point.AlongMetres - halfAlongMetres - 3 * _largestRadiusMetres) / _sideAlongMetres);
        int lastA = (int)
            Math.Floor((point.AlongMetres + halfAlongMetres + 3 * _largestRadiusMetres) / _sideAlongMetres);
        int firstC = (int)
            Math.Floor((point.AroundMetres - halfAroundMetres - _largestRadiusMetres) / _sideAroundMetres);
        int lastC = (int)Math.Floor((point.AroundMetres + halfAroundMetres + _largestRadiusMetres) / _sideAroundMetres);
        for (int a = firstA; a <= lastA; a++)
        {
            for (int c = firstC; c <= lastC; c++)
                found += Square(a, c, discs[found..]);
        }
        return found;
    }

    private int Square(int a, int c, Span<Disc> discs)
    {
        int wrapped = _squaresAround > 0 ? ((c % _squaresAround) + _squaresAround) % _squaresAround : c;
        ulong stream = Streams.Of(RandomStream.Bubbles, _index, a, wrapped);
        int count = Math.Min(Poisson.Draw(_meanInSquare, CounterNoise.Uniform(_seed, stream, 0)), discs.Length);
        int kept = 0;
        for (int i = 0; i < count; i++)
        {
            ulong number = 3 * (ulong)i + 1;
            Disc disc = new(
                (a + CounterNoise.Uniform(_seed, stream, number)) * _sideAlongMetres,
                (c + CounterNoise.Uniform(_seed, stream, number + 1)) * _sideAroundMetres,
                _diameterMetres * (0.25 + 0.5 * CounterNoise.Uniform(_seed, stream, number + 2))
            );
            if (_region.Contains(new(disc.AlongMetres, disc.AroundMetres)))
                discs[kept++] = disc;
        }
        return kept;
    }
}
