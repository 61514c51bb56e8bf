using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Random;
using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Fields;

/// <summary>What lies on the metal: the outer surface's roughness, paint and scale, and deposits on the inside. Immutable, thread-safe.</summary>
public sealed class SurfaceField
{
    private readonly ComponentShape _shape;
    private readonly Coat[] _paint;
    private readonly Coat[] _scale;
    private readonly Coat[] _deposits;
    private readonly RandomSurface? _outer;

    private SurfaceField(
        ComponentShape shape,
        Coat[] paint,
        Coat[] scale,
        Coat[] deposits,
        RandomSurface? outer,
        double rms
    )
    {
        _shape = shape;
        (_paint, _scale, _deposits, _outer, OuterRoughnessMetres) = (paint, scale, deposits, outer, rms);
    }

    /// <summary>Root mean square roughness of the outer surface, metres.</summary>
    public double OuterRoughnessMetres { get; }

    /// <summary>Compiles the coats of a scene.</summary>
    /// <param name="scene">The scene.</param>
    /// <exception cref="ProcedureException">A correlation length of 0; names the key.</exception>
    public static SurfaceField Compile(Scene scene)
    {
        ArgumentNullException.ThrowIfNull(scene);
        ComponentShape shape = ComponentShape.Of(scene.Component);
        ulong seed = (ulong)scene.Header.Seed;
        SurfaceSection surface = scene.Surface;
        Coat[] Coats(IReadOnlyList<CoatLayer> layers, RandomStream purpose, string key) =>
            [
                .. layers.Select(
                    (layer, i) =>
                        new Coat(
                            SurfaceRegion.Of(shape, layer.Along, layer.Around, layer.Length, layer.Width),
                            new CoatHit(
                                layer.ThicknessMetres,
                                layer.VelocityMetresPerSecond,
                                layer.DensityKilogramsPerCubicMetre,
                                layer.AttenuationDecibelsPerMetre
                            ),
                            layer.WavinessMetres,
                            layer.WavinessMetres > 0
                                ? Field(
                                    shape,
                                    layer.WavinessLengthMetres,
                                    seed,
                                    CounterNoise.Stream(purpose, (ulong)i),
                                    string.Create(
                                        System.Globalization.CultureInfo.InvariantCulture,
                                        $"surface.{key}[{i + 1}].waviness_length"
                                    )
                                )
                                : null
                        )
                ),
            ];
        Coat[] deposits =
        [
            .. scene.Wall.Deposits.Select(deposit => new Coat(
                SurfaceRegion.Of(shape, deposit.Along, deposit.Around, deposit.Length, deposit.Width),
                new CoatHit(
                    deposit.ThicknessMetres,
                    deposit.VelocityMetresPerSecond,
                    deposit.DensityKilogramsPerCubicMetre,
                    deposit.AttenuationDecibelsPerMetre
                ),
                0,
                null
            )),
        ];
        RandomSurface? outer =
            surface.RoughnessRmsMetres > 0
                ? Field(
                    shape,
                    surface.RoughnessCorrelationMetres,
                    seed,
                    CounterNoise.Stream(RandomStream.OuterRoughness),
                    "surface.roughness_correlation"
                )
                : null;
        return new SurfaceField(
            shape,
            Coats(surface.Paint, RandomStream.Paint, "paint"),
            Coats(surface.Scale, RandomStream.Scale, "scale"),
            deposits,
            outer,
            surface.RoughnessRmsMetres
        );
    }

    /// <summary>Paint at a point; thickness 0 where there is none. Where coats overlap the later one of the scene counts.</summary>
    /// <param name="point">The point.</param>
    public CoatHit PaintAt(SurfacePoint point) => At(_paint, point);

    /// <summary>Scale at a point; thickness 0 where there is none.</summary>
    /// <param name="point">The point.</param>
    public CoatHit ScaleAt(SurfacePoint point) => At(_scale, point);

    /// <summary>Deposit on the inside at a point; thickness 0 where there is none.</summary>
    /// <param name="point">The point.</param>
    public CoatHit DepositAt(SurfacePoint point) => At(_deposits, point);

    /// <summary>Height of the outer surface over its mean, outwards, metres.</summary>
    /// <param name="point">The point.</param>
    public double OuterHeightAt(SurfacePoint point) =>
        _outer is null
            ? 0
            : OuterRoughnessMetres * _outer.ValueAt(point.AlongMetres - _shape.StartMetres, point.AroundMetres);

    private CoatHit At(Coat[] coats, SurfacePoint point)
    {
        for (int i = coats.Length - 1; i >= 0; i--)
        {
            Coat coat = coats[i];
            if (!coat.Region.Contains(_shape, point))
                continue;
            if (coat.Waves is null)
                return coat.Mean;
            double wave =
                coat.WavinessMetres * coat.Waves.ValueAt(point.AlongMetres - _shape.StartMetres, point.AroundMetres);
            return coat.Mean with { ThicknessMetres = Math.Max(0, coat.Mean.ThicknessMetres + wave) };
        }
        return default;
    }

    private static RandomSurface Field(ComponentShape shape, double correlation, ulong seed, ulong stream, string key)
    {
        if (!(correlation > 0))
            throw new ProcedureException([
                new ProcedureFinding(key, "A correlation length of 0 is no surface.", "write \"2 mm\"."),
            ]);
        return new RandomSurface(
            new RandomFieldSettings
            {
                LengthMetres = shape.EndMetres - shape.StartMetres,
                WidthMetres = shape.WidthMetres,
                IsClosedAround = shape.IsClosed,
                CorrelationAlongMetres = correlation,
                CorrelationAroundMetres = correlation,
            },
            seed,
            stream
        );
    }

    private sealed record Coat(SurfaceRegion Region, CoatHit Mean, double WavinessMetres, RandomSurface? Waves);
}
