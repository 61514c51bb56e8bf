using System.Globalization;
using EchoToThickness.Procedures;
using EchoToThickness.Units;

namespace EchoToThickness.Studies.StudyFiles;

/// <summary>What the keys of a study must be to each other.</summary>
internal static class StudyCheck
{
    public static void Run(TomlDocument<CompareStudy> document, List<ProcedureFinding> findings)
    {
        CompareStudy study = document.Value;
        void Fault(string key, string what, string remedy) =>
            findings.Add(new ProcedureFinding(key, what, remedy) { Place = document.PlaceOf(key) });

        if (study.Methods.Count == 0)
            Fault("method", "The study compares nothing.", "add a [[method]] with name and procedure.");
        if (study.Plates.Count + study.Scenes.Count + study.Stacks.Count == 0)
            Fault("study", "The study has no A-scans.", "add a [[plate]], a [[scene]] or a [[stack]].");
        Distinct(study.Methods.Select(m => m.Name), "method", Fault);
        Distinct(
            study
                .Plates.Select(p => p.Name)
                .Concat(study.Scenes.Select(NameOf))
                .Concat(study.Stacks.Select(s => s.Name)),
            study.Plates.Count > 0 ? "plate"
                : study.Scenes.Count > 0 ? "scene"
                : "stack",
            Fault
        );
        for (int i = 0; i < study.Methods.Count; i++)
            if (study.Methods[i].Name.Trim().Length == 0)
                Fault(Entry("method", i, "name"), "The method has no name.", "give it one; tables show it.");
        for (int i = 0; i < study.Stacks.Count; i++)
            if (study.Stacks[i].Files.Count == 0)
                Fault(Entry("stack", i, "files"), "No file is named.", "write files = [\"scan.h5\"].");
        for (int i = 0; i < study.Stacks.Count; i++)
            foreach ((string key, string what, string remedy) in Stack(study.Stacks[i]))
                Fault(Entry("stack", i, key), what, remedy);
        for (int i = 0; i < study.Sweeps.Count; i++)
            Sweep(study, i, Fault);
        Report(study, Fault);
    }

    /// <summary>Faults of one plate, swept keys set.</summary>
    public static IEnumerable<(string Key, string What, string Remedy)> Plate(PlateSettings plate)
    {
        double highest = plate.FrequencyHz * (1 + plate.BandwidthFraction / 2);
        if (2 * highest > plate.SampleRateHz)
            yield return (
                "sample_rate",
                $"At {UnitText.Format(plate.SampleRateHz, Dimension.Frequency)} a pulse that reaches to {UnitText.Format(highest, Dimension.Frequency)} cannot be sampled.",
                $"write at least \"{UnitText.Format(2 * highest, Dimension.Frequency)}\"."
            );
        if (plate.WallRangeMetres >= 2 * plate.WallMetres)
            yield return (
                "wall_range",
                $"A range of {UnitText.Format(plate.WallRangeMetres, Dimension.Length)} about {UnitText.Format(plate.WallMetres, Dimension.Length)} reaches below zero.",
                "write a smaller wall_range."
            );
        double needed =
            plate.LeadSeconds
            + 2 * (plate.WallMetres + plate.WallRangeMetres / 2) / plate.VelocityMetresPerSecond
            + 1e-6;
        if (needed > plate.DurationSeconds)
            yield return (
                "duration",
                $"A record of {UnitText.Format(plate.DurationSeconds, Dimension.Time)} ends before back-wall echo 1 of {UnitText.Format(plate.WallMetres, Dimension.Length)}.",
                $"write at least \"{(needed * 1e6).ToString("F1", CultureInfo.InvariantCulture)} us\"."
            );
    }

    /// <summary>Faults of one entry of stacks.</summary>
    public static IEnumerable<(string Key, string What, string Remedy)> Stack(StackSettings stack)
    {
        if (stack.Drawing is not null)
            yield break;
        if (stack.Resample == ResampleChoice.Feature)
            yield return ("resample", "Features are those of a drawing, and none is named.", "name a drawing.");
        if (stack.RegistrationProcedure is not null)
            yield return (
                "registration_procedure",
                "It serves to lay a scan on a drawing, and none is named.",
                "name a drawing, or leave it out."
            );
    }

    private static void Sweep(CompareStudy study, int i, Action<string, string, string> fault)
    {
        SweepSettings sweep = study.Sweeps[i];
        if (sweep.Values.Count == 0)
            fault(Entry("sweep", i, "values"), "No value is given.", "write values = [\"10 dB\", \"20 dB\"].");
        if (sweep.Values.Distinct().Count() < sweep.Values.Count)
            fault(Entry("sweep", i, "values"), "A value stands there twice.", "write each once.");
        string[] known = [.. study.Plates.Select(p => p.Name), .. study.Scenes.Select(NameOf)];
        if (sweep.Of is { } of && !known.Contains(of))
            fault(
                Entry("sweep", i, "of"),
                $"There is no plate or scene '{of}'.",
                Suggestion.For(of, known) is { } near
                    ? $"did you mean '{near}'?"
                    : $"use one of: {string.Join(", ", known.Select(n => $"'{n}'"))}."
            );
        else if (known.Length == 0)
            fault(Entry("sweep", i, "key"), "Stored stacks cannot be swept.", "add a [[plate]] or a [[scene]].");
    }

    private static void Report(CompareStudy study, Action<string, string, string> fault)
    {
        ReportSettings report = study.Report;
        string[] names = [.. study.Methods.Select(m => m.Name)];
        if (report.Reference is { } reference && !names.Contains(reference))
            fault(
                "report.reference",
                $"There is no method '{reference}'.",
                Suggestion.For(reference, names) is { } near
                    ? $"did you mean '{near}'?"
                    : $"use one of: {string.Join(", ", names.Select(n => $"'{n}'"))}."
            );
        if (report.WallBandsMetres.Zip(report.WallBandsMetres.Skip(1)).Any(pair => pair.First >= pair.Second))
            fault("report.wall_bands", "The edges do not ascend.", "write them from thin to thick.");
        foreach (string form in report.Figures.Where(f => f is not ("png" or "svg")))
            fault("report.figures", $"'{form}' is no form of a figure.", "write \"png\" or \"svg\".");
    }

    private static void Distinct(IEnumerable<string> names, string key, Action<string, string, string> fault)
    {
        foreach (IGrouping<string, string> twice in names.GroupBy(n => n).Where(g => g.Count() > 1))
            fault(key, $"The name '{twice.Key}' stands for {twice.Count()} things.", "give each a name of its own.");
    }

    /// <summary>Name of a scene: its own, else its file's.</summary>
    public static string NameOf(SceneSettings scene) =>
        scene.Name.Length > 0 ? scene.Name : Path.GetFileNameWithoutExtension(scene.File);

    private static string Entry(string section, int index, string key) =>
        string.Create(CultureInfo.InvariantCulture, $"{section}[{index + 1}].{key}");
}
