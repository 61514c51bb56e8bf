using CsCheck;
using EchoToThickness.Procedures;
using Xunit;

namespace EchoToThickness.Tests.Procedures;

/// <summary>Random sound procedures survive writing and reading; random bytes never do worse than a typed error.</summary>
public sealed class RandomProcedureTests
{
    private static readonly Gen<LevelRule> Level = Gen.Select(
        Gen.Double[1e-4, 1],
        Gen.Int[0, 2],
        (ratio, reference) => new LevelRule(ratio, (LevelReference)reference)
    );

    private static readonly Gen<GateExtent> Extent = Gen.Select(
        Gen.Double[1e-9, 1e-2],
        Gen.Bool,
        (value, depth) => depth ? GateExtent.FromDepth(value) : GateExtent.FromSeconds(value)
    );

    private static readonly Gen<GateSettings> Gate = Gen.Select(
        Gen.String[Gen.Char[' ', '\u024F'], 1, 12].Where(n => n is not ("interface" or "pulse")),
        Extent,
        Extent,
        Level,
        Gen.Int[0, 2],
        Gen.Int[0, 4],
        Gen.Int[0, 4],
        (name, start, width, level, take, pick, polarity) =>
            new GateSettings
            {
                Name = name,
                Start = start,
                Width = width,
                Level = level,
                Take = (EchoChoice)take,
                Pick = (PickRule)pick,
                Polarity = (PolarityChoice)polarity,
                FlankFraction = pick == 0 ? level.Ratio * 0.98 + 0.01 : null,
            }
    );

    private static readonly Gen<Procedure> Any = Gen.Select(
        Gate.Array[0, 4].Where(gates => gates.Select(g => g.Name).Distinct().Count() == gates.Length),
        Gen.Double[1e-4, 1e-2],
        Gen.Double[1e4, 4e7].Nullable(),
        Gen.Double[-1e-6, 1e-6],
        Gen.Double[0, 1.2],
        Gen.Double[-50, 400].Nullable(),
        Gen.String[0, 20].Where(s => !s.Any(char.IsSurrogate)),
        (gates, wall, low, zero, angle, temperature, note) =>
            new Procedure
            {
                Header = new ProcedureHeader { Note = note },
                Conditioning = new ConditioningSettings { BandLowHz = low, BandHighHz = low * 1.5 },
                Gates = gates,
                Wall = new WallSettings { MinimumMetres = wall, MaximumMetres = wall * 3 },
                Velocity = new VelocitySettings { PartTemperatureCelsius = temperature },
                Correction = new CorrectionSettings { ZeroSeconds = zero, BeamAngleRadians = angle },
            }
    );

    [Fact]
    public void WriteThenParse_RandomProcedure_IsEqual() =>
        Any.Sample(
            p =>
            {
                Procedure back = ProcedureText.Parse(ProcedureText.Write(p, withComments: true), "random.toml");
                return back.Gates.SequenceEqual(p.Gates)
                    && back.Header == p.Header
                    && back.Conditioning == p.Conditioning
                    && back.Wall == p.Wall
                    && back.Velocity == p.Velocity
                    && back.Correction == p.Correction
                    && ProcedureText.Sha256(back) == ProcedureText.Sha256(p);
            },
            iter: 200
        );

    [Fact]
    public void Parse_MutatedText_IsReadOrRefusedWithATypedError()
    {
        string sound = ProcedureText.Write(
            new Procedure
            {
                Gates =
                [
                    new GateSettings
                    {
                        Name = "a",
                        Start = GateExtent.FromDepth(1e-3),
                        Width = GateExtent.FromSeconds(1e-6),
                    },
                ],
            }
        );
        Gen.Select(Gen.Int[0, sound.Length - 1], Gen.Char['\0', '\u00FF'], Gen.Int[0, 40])
            .Array[1, 3]
            .Sample(
                edits =>
                {
                    string text = sound;
                    foreach ((int at, char put, int cut) in edits)
                    {
                        int start = Math.Min(at, text.Length);
                        text = text[..start] + put + text[Math.Min(start + cut, text.Length)..];
                    }
                    try
                    {
                        ProcedureText.Parse(text, "mutated.toml");
                    }
                    catch (ProcedureException e)
                    {
                        Assert.All(
                            e.Findings,
                            f => Assert.StartsWith("mutated.toml", f.Place, StringComparison.Ordinal)
                        );
                    }
                },
                iter: 1000
            );
    }
}
