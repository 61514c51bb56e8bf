using System.Globalization;
using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Units;

namespace EchoToThickness.Studies.Validate;

/// <summary>What was validated, on what, and over which range of the essential variables the evidence reaches.</summary>
internal static class ConditionsPart
{
    public static IEnumerable<StatementSection> Sections(
        ValidatePlan plan,
        IReadOnlyList<Reading> readings,
        IReadOnlyList<Indication> indications
    )
    {
        yield return new StatementSection
        {
            Title = "What was validated",
            Key = "subject",
            Columns = ["", ""],
            Lines =
            [
                ["procedure", $"{plan.Procedure.Header.Name} ({plan.Study.Procedure.File ?? "the default procedure"})"],
                ["SHA-256 of the procedure", plan.ProcedureSha256],
                [
                    "frozen beforehand",
                    plan.WasFrozen ? "yes, by its SHA-256 in the study" : "no: the study does not name its SHA-256",
                ],
                ["SHA-256 of the study", plan.StudySha256],
                ["responsible", plan.Study.Header.Responsible.Length > 0 ? plan.Study.Header.Responsible : "not named"],
                ["seen by tuning", plan.SeenByTuning.Count == 0 ? "none" : string.Join(", ", plan.SeenByTuning)],
            ],
        };
        yield return new StatementSection
        {
            Title = "Scans",
            Key = "scans",
            Columns = ["scan", "block", .. plan.Study.Factors.Select(f => f.Name), "A-scans", "simulated", "SHA-256"],
            Lines =
            [
                .. plan.Scans.Select(s =>
                    (IReadOnlyList<string>)
                        [
                            s.Name,
                            s.Block,
                            .. s.Levels,
                            Words.Count(s.Lines.Sum(l => l.Info.Shape.Cells)),
                            s.IsSimulated ? "yes" : "no",
                            s.Sha256,
                        ]
                ),
            ],
        };
        yield return new StatementSection
        {
            Title = "Essential variables and the range of the evidence",
            Key = "essential_variables",
            Text = ["Outside of these ranges the study says nothing."],
            Columns = ["variable", "range of the evidence", "claimed"],
            Lines = Ranges(plan, readings, indications),
        };
        yield return new StatementSection
        {
            Title = "Settings of the procedure that differ from the defaults",
            Key = "settings",
            Text = [.. Differences(plan.Procedure)],
        };
    }

    private static List<IReadOnlyList<string>> Ranges(
        ValidatePlan plan,
        IReadOnlyList<Reading> readings,
        IReadOnlyList<Indication> indications
    )
    {
        StackInfo[] infos = [.. plan.Scans.SelectMany(s => s.Lines.Select(l => l.Info))];
        ClaimSettings claim = plan.Study.Claim;
        var lines = new List<IReadOnlyList<string>>();
        void Range(string name, IEnumerable<double?> values, Dimension dimension, string claimed = "")
        {
            double?[] all = [.. values];
            double[] known = [.. all.OfType<double>().Where(double.IsFinite)];
            string missing = known.Length < all.Length ? $" (not stated by {all.Length - known.Length})" : "";
            lines.Add([
                name,
                known.Length == 0 ? "not stated"
                : known.Min() == known.Max() ? UnitText.Format(known.Min(), dimension) + missing
                : $"{UnitText.Format(known.Min(), dimension)} to {UnitText.Format(known.Max(), dimension)}{missing}",
                claimed,
            ]);
        }
        string Claimed(double? low, double? high) =>
            low is null && high is null
                ? "as scanned"
                : $"{(low is { } a ? UnitText.Format(a, Dimension.Length) : "thinnest scanned")} to {(high is { } b ? UnitText.Format(b, Dimension.Length) : "thickest scanned")}";
        Range(
            "certified wall",
            readings.Where(r => r.ErrorsMetres.Length > 0).Select(r => (double?)Math.Round(r.TruthMetres, 8)),
            Dimension.Length,
            Claimed(claim.ThinnestMetres, claim.ThickestMetres)
        );
        if (indications.Count > 0)
        {
            Range(
                "diameter of holes and pits",
                indications.Select(i => (double?)Math.Round(i.DiameterMetres, 8)),
                Dimension.Length
            );
            Range(
                "depth of holes and pits",
                indications.Select(i => (double?)Math.Round(i.DepthMetres, 8)),
                Dimension.Length
            );
        }
        Range("frequency", infos.Select(i => i.Acquisition.FrequencyHz), Dimension.Frequency);
        Range("sample rate", infos.Select(i => (double?)i.TimeBase.SampleRateHz), Dimension.Frequency);
        Range("velocity in the metal", infos.Select(i => i.Acquisition.VelocityMetresPerSecond), Dimension.Velocity);
        Range(
            "velocity in the couplant",
            infos.Select(i => i.Acquisition.CouplantVelocityMetresPerSecond),
            Dimension.Velocity
        );
        Range("nominal wall", infos.Select(i => i.Component.NominalWallMetres), Dimension.Length);
        lines.Add([
            "component",
            string.Join(
                ", ",
                infos
                    .Select(i => i.Component.Kind.ToString().ToLowerInvariant())
                    .Distinct()
                    .Order(StringComparer.Ordinal)
            ),
            "",
        ]);
        lines.Add([
            "sample type",
            string.Join(", ", infos.Select(i => i.SampleType.ToString()).Distinct().Order(StringComparer.Ordinal)),
            "",
        ]);
        for (int f = 0; f < plan.Study.Factors.Count; f++)
            lines.Add([
                plan.Study.Factors[f].Name,
                string.Join(
                    ", ",
                    plan.Scans.Select(s => s.Levels[f]).Distinct().Order(Comparer<string>.Create(Words.CompareNatural))
                ),
                "",
            ]);
        return lines;
    }

    /// <summary>Lines of the procedure that the default does not hold, as TOML.</summary>
    private static IEnumerable<string> Differences(Procedure procedure)
    {
        var defaults = ProcedureText.Write(new Procedure { Output = procedure.Output }).Split('\n').ToHashSet();
        string section = "";
        var lines = new List<string>();
        foreach (string line in ProcedureText.Write(procedure).Split('\n'))
        {
            if (line.StartsWith('['))
                section = line.Trim('[', ']');
            else if (line.Length > 0 && !defaults.Contains(line))
                lines.Add($"{section}.{line}");
        }
        return lines.Count == 0
            ? ["None: the default procedure."]
            : [string.Create(CultureInfo.InvariantCulture, $"{lines.Count} settings:"), .. lines.Select(l => $"`{l}`")];
    }
}
