using System.Globalization;
using EchoToThickness.Procedures;
using EchoToThickness.Studies.StudyFiles;

namespace EchoToThickness.Studies.Validate;

/// <summary>What the keys of a validation must be to each other.</summary>
internal static class ValidateCheck
{
    public static void Run(TomlDocument<ValidateStudy> document, List<ProcedureFinding> findings)
    {
        ValidateStudy study = document.Value;
        void Fault(string key, string what, string remedy) =>
            findings.Add(new ProcedureFinding(key, what, remedy) { Place = document.PlaceOf(key) });

        if (study.Scans.Count == 0 && study.Design is null)
            Fault("scan", "The study has no scans.", "add a [[scan]] with files, or with a scene.");
        Twice(study.Scans.Select(s => s.Name), "scan", Fault);
        Twice(study.Factors.Select(f => f.Name), "factor", Fault);
        for (int i = 0; i < study.Scans.Count; i++)
            Scan(study, i, Fault);
        for (int i = 0; i < study.Criteria.Count; i++)
            Criterion(study.Criteria[i], Entry("criterion", i), Fault);
        for (int i = 0; i < study.Inputs.Count; i++)
            if (study.Inputs[i].StandardUncertaintyMetres is null == study.Inputs[i].RelativeFraction is null)
                Fault(
                    Entry("uncertainty", i),
                    "A contribution is a length, or a part of the wall: one of the two.",
                    "write standard_uncertainty = \"0.02 mm\", or relative = \"0.5 %\"."
                );
        if (study.Claim is { ThinnestMetres: { } thin, ThickestMetres: { } thick } && thin >= thick)
            Fault("claim.thickest", "The thickest wall is not above the thinnest.", "correct one of the two.");
        if (study.Design is { A50Metres: { } a50 } design && !(design.A90Metres > a50))
            Fault("design.a90", "A curve of detection needs an a90 above its a50.", "write a90, or leave both out.");
        IReadOnlyList<double> bands = study.Report.WallBandsMetres;
        if (bands.Zip(bands.Skip(1)).Any(pair => pair.First >= pair.Second))
            Fault("report.wall_bands", "The edges do not ascend.", "write them from thin to thick.");
        foreach (string form in study.Report.Figures.Where(f => f is not ("png" or "svg")))
            Fault("report.figures", $"'{form}' is no form of a figure.", "write \"png\" or \"svg\".");
    }

    /// <summary>Factor and level of one line of conditions; null when it is none.</summary>
    public static (string Factor, string Level)? Condition(string line)
    {
        int equals = line.IndexOf('=', StringComparison.Ordinal);
        if (equals <= 0 || line[(equals + 1)..].Trim().Length == 0)
            return null;
        return (line[..equals].Trim(), line[(equals + 1)..].Trim());
    }

    public static string Entry(string section, int index) =>
        string.Create(CultureInfo.InvariantCulture, $"{section}[{index + 1}]");

    private static void Scan(ValidateStudy study, int i, Action<string, string, string> fault)
    {
        ScanSettings scan = study.Scans[i];
        string entry = Entry("scan", i);
        if (scan.Name.Trim().Length == 0)
            fault(entry + ".name", "The entry has no name.", "give it one; tables show it.");
        if (scan.Files.Count > 0 == scan.Scene is not null)
            fault(entry, "An entry is either stored scans or a simulated one.", "give files, or a scene, not both.");
        if (scan.Scene is null && (scan.Repeats != 1 || scan.Set.Count > 0))
            fault(
                entry + (scan.Repeats != 1 ? ".repeats" : ".set"),
                "Only a scene can be repeated or changed.",
                "name every stored scan in files."
            );
        if (scan.Scene is not null && scan.Layout is not null)
            fault(entry + ".layout", "A scene needs no layout map.", "leave it out.");
        if (scan.Drawing is null && scan.Resample == ResampleChoice.Feature)
            fault(entry + ".resample", "Features are those of a drawing, and none is named.", "name a drawing.");
        var known = study.Factors.Select(f => f.Name).ToArray();
        var seen = new HashSet<string>();
        foreach (string line in scan.Conditions)
        {
            if (Condition(line) is not { } condition)
                fault(
                    entry + ".conditions",
                    $"'{line}' is no condition.",
                    "write factor, equals sign and level, such as \"operator = A\"."
                );
            else if (!known.Contains(condition.Factor))
                fault(
                    entry + ".conditions",
                    $"There is no factor '{condition.Factor}'.",
                    Suggestion.For(condition.Factor, known) is { } near
                        ? $"did you mean '{near}'?"
                        : $"add [[factor]] name = \"{condition.Factor}\"."
                );
            else if (!seen.Add(condition.Factor))
                fault(entry + ".conditions", $"'{condition.Factor}' has two levels.", "a scan has one level of each.");
        }
        foreach (string factor in known.Where(f => !seen.Contains(f)))
            fault(
                entry + ".conditions",
                $"The scan states no level of '{factor}'.",
                $"add \"{factor} = ...\" to its conditions."
            );
    }

    private static void Criterion(CriterionSettings criterion, string entry, Action<string, string, string> fault)
    {
        (string Key, bool Given)[] limits =
        [
            ("at_most", criterion.AtMostMetres is not null),
            ("at_most_share", criterion.AtMostFraction is not null),
            ("at_least_share", criterion.AtLeastFraction is not null),
            ("at_most_per_square_metre", criterion.AtMostPerSquareMetre is not null),
        ];
        string needed = criterion.Quantity switch
        {
            CriterionQuantity.Missing or CriterionQuantity.Gross => "at_most_share",
            CriterionQuantity.Coverage => "at_least_share",
            CriterionQuantity.FalseCalls => "at_most_per_square_metre",
            _ => "at_most",
        };
        foreach ((string key, bool given) in limits)
            if (given && key != needed)
                fault(entry + "." + key, $"This quantity is limited by {needed}.", $"write {needed} instead.");
        if (!limits.Single(l => l.Key == needed).Given)
            fault(entry + "." + needed, "The criterion has no limit.", $"write {needed}.");
    }

    private static void Twice(IEnumerable<string> names, string key, Action<string, string, string> fault)
    {
        foreach (IGrouping<string, string> twice in names.GroupBy(n => n).Where(g => g.Count() > 1))
            fault(key, $"The name '{twice.Key}' stands for {twice.Count()} things.", "give each a name of its own.");
    }
}
