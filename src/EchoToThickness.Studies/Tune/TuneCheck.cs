using System.Globalization;
using EchoToThickness.Procedures;
using EchoToThickness.Studies.Searching;
using EchoToThickness.Studies.Sources;
using EchoToThickness.Studies.StudyFiles;
using EchoToThickness.Units;

namespace EchoToThickness.Studies.Tune;

/// <summary>Faults of a search as a whole; what a single key may hold is checked when it is read.</summary>
internal static class TuneCheck
{
    private const double LargestGrid = 100_000;

    /// <summary>Checks everything that needs no other file, and reads the objectives.</summary>
    public static Objective[] Run(TomlDocument<TuneStudy> document, List<ProcedureFinding> findings)
    {
        TuneStudy study = document.Value;
        void Fault(string key, string what, string remedy) =>
            findings.Add(new ProcedureFinding(key, what, remedy) { Place = document.PlaceOf(key) });

        if (study.Vary.Count == 0)
            Fault("vary", "The study varies nothing.", "add a [[vary]] with a key and a range or a list.");
        if (study.Scenes.Count + study.Stacks.Count == 0)
            Fault("study", "The study has no A-scans.", "add a [[scene]] or a [[stack]].");
        foreach (
            IGrouping<string, string> twice in study
                .Scenes.Select(StudyCheck.NameOf)
                .Concat(study.Stacks.Select(s => s.Name))
                .GroupBy(n => n)
                .Where(g => g.Count() > 1)
        )
            Fault(
                study.Scenes.Count > 0 ? "scene" : "stack",
                $"The name '{twice.Key}' stands for {twice.Count()} things.",
                "give each a name of its own."
            );
        for (int i = 0; i < study.Stacks.Count; i++)
            if (study.Stacks[i].Files.Count == 0)
                Fault(Entry("stack", i, "files"), "No file is named.", "write files = [\"scan.h5\"].");
        for (int i = 0; i < study.Stacks.Count; i++)
            foreach ((string key, string what, string remedy) in StudyCheck.Stack(study.Stacks[i]))
                Fault(Entry("stack", i, key), what, remedy);
        foreach (string form in study.Report.Figures.Where(f => f is not ("png" or "svg")))
            Fault("report.figures", $"'{form}' is no form of a figure.", "write \"png\" or \"svg\".");
        return Objectives(study, Fault);
    }

    private static Objective[] Objectives(TuneStudy study, Action<string, string, string> fault)
    {
        bool known = study.Judge.Truth == TruthChoice.Known;
        if (study.Objectives.Count == 0)
            return
            [
                .. TuneFigures.Usual(study.Judge.Truth).Select(f => new Objective(f, TuneFigures.UsualPer(f), null)),
            ];
        var objectives = new List<Objective>();
        for (int i = 0; i < study.Objectives.Count; i++)
        {
            ObjectiveSettings settings = study.Objectives[i];
            TuneFigure figure = settings.Figure;
            string word = TuneFigures.WordOf(figure);
            if (objectives.Any(o => o.Figure == figure))
                fault(Entry("objective", i, "figure"), $"'{word}' stands there twice.", "name each figure once.");
            if (!known && TuneFigures.NeedsTruth(figure))
                fault(
                    Entry("objective", i, "figure"),
                    $"'{word}' needs the true wall, and truth = \"none\".",
                    "use one of: "
                        + string.Join(
                            ", ",
                            Enum.GetValues<TuneFigure>().Where(TuneFigures.NeedsNoTruth).Select(TuneFigures.WordOf)
                        )
                        + "."
                );
            if (
                figure is TuneFigure.PitsMissed or TuneFigure.FlaggedWrongly
                && study.Judge.WallLimitMetres is null
                && study.Judge.PitDepthMetres is null
            )
                fault(
                    Entry("objective", i, "figure"),
                    $"'{word}' needs to know what a pit is.",
                    "write wall_limit or pit_depth in [judge]."
                );
            if (figure == TuneFigure.Repeatability && study.Repeats.Count == 0)
                fault(
                    Entry("objective", i, "figure"),
                    "'repeatability' needs two scans of one place.",
                    "add a [[repeat]] with two files."
                );
            double per =
                Quantity(figure, settings.Per, Entry("objective", i, "per"), fault) ?? TuneFigures.UsualPer(figure);
            if (!(per > 0))
                fault(
                    Entry("objective", i, "per"),
                    $"'{settings.Per}' is not above zero.",
                    "write what costs one point."
                );
            objectives.Add(
                new Objective(figure, per, Quantity(figure, settings.Limit, Entry("objective", i, "limit"), fault))
            );
        }
        return [.. objectives];
    }

    private static double? Quantity(TuneFigure figure, string? text, string key, Action<string, string, string> fault)
    {
        if (text is null)
            return null;
        try
        {
            return TuneFigures.Parse(figure, text);
        }
        catch (UnitException error)
        {
            fault(key, error.What, error.Remedy);
            return null;
        }
    }

    /// <summary>Every value by itself must be one that the procedure can read; combinations are judged one by one later.</summary>
    public static void Axes(
        IReadOnlyList<VaryAxis> axes,
        TomlDocument<TuneStudy> document,
        string baseText,
        string baseFile,
        IReadOnlyList<TomlOverride> baseChanges
    )
    {
        var findings = new List<ProcedureFinding>();
        foreach (VaryAxis axis in axes)
        foreach (double place in axis.PlacesToCheck())
        {
            try
            {
                TomlBinder.Read<Procedure>(baseText, baseFile, [.. baseChanges, .. axis.ChangesAt(place)]);
            }
            catch (ProcedureException error)
            {
                findings.AddRange(error.Findings.Where(f => !findings.Contains(f)));
            }
        }
        foreach (
            IGrouping<string, string> twice in axes.SelectMany(a =>
                    a.ChangesAt(a.Axis.LevelAt(0)).Select(c => c.Key).Distinct()
                )
                .GroupBy(k => k)
                .Where(g => g.Count() > 1)
        )
            findings.Add(
                new ProcedureFinding("vary", $"'{twice.Key}' is varied twice.", "vary each key in one place.")
                {
                    Place = document.PlaceOf("vary"),
                }
            );
        foreach (IGrouping<string, VaryAxis> twice in axes.GroupBy(a => a.Name).Where(g => g.Count() > 1))
            findings.Add(
                new ProcedureFinding(
                    "vary",
                    $"Two things that are varied are called '{twice.Key}'.",
                    "give each a name."
                )
                {
                    Place = document.PlaceOf("vary"),
                }
            );
        SearchSettings search = document.Value.Search;
        double size = SearchDesign.GridSize([.. axes.Select(a => a.Axis)]);
        double most = Math.Min(LargestGrid, Math.Max(search.RuleSets, 0));
        if (findings.Count == 0 && search.Method == SearchMethod.Grid && size > most)
            findings.Add(
                new ProcedureFinding(
                    "search.rule_sets",
                    string.Create(
                        CultureInfo.InvariantCulture,
                        $"The grid has {size:#,0} rule sets ({string.Join(" x ", axes.Select(a => a.Axis.Places))}); {most:#,0} are allowed."
                    ),
                    "write fewer steps, another method, or a larger rule_sets."
                )
                {
                    Place = document.PlaceOf("search.rule_sets"),
                }
            );
        if (findings.Count > 0)
            throw new ProcedureException(findings);
    }

    /// <summary>Numbers of the points that are scans of the same place.</summary>
    public static (int First, int Second)[] Repeats(TomlDocument<TuneStudy> document, IReadOnlyList<StudyPoint> points)
    {
        TuneStudy study = document.Value;
        string[] files = [.. study.Stacks.SelectMany(s => s.Files)];
        var repeats = new List<(int, int)>();
        for (int i = 0; i < study.Repeats.Count; i++)
        {
            int At(string file, string key)
            {
                int at = Array.IndexOf(files, file);
                if (at >= 0)
                    return points.Count - files.Length + at;
                throw new ProcedureException([
                    new ProcedureFinding(
                        Entry("repeat", i, key),
                        $"No [[stack]] holds the file {file}.",
                        Suggestion.For(file, files) is { } near
                            ? $"did you mean '{near}'?"
                            : "name it in 'files' of a [[stack]] first."
                    )
                    {
                        Place = document.PlaceOf(Entry("repeat", i, key)),
                    },
                ]);
            }

            int first = At(study.Repeats[i].First, "first");
            int second = At(study.Repeats[i].Second, "second");
            if (
                first == second
                || points[first].Blocks != 1
                || points[second].Blocks != 1
                || points[first].InfoOf(0).Shape.Scans != points[second].InfoOf(0).Shape.Scans
                || points[first].InfoOf(0).Shape.Beams != points[second].InfoOf(0).Shape.Beams
            )
                throw new ProcedureException([
                    new ProcedureFinding(
                        Entry("repeat", i, "second"),
                        "The two are not scans of the same cells.",
                        "name two files of one line each, with as many scan positions and beams."
                    )
                    {
                        Place = document.PlaceOf(Entry("repeat", i, "second")),
                    },
                ]);
            repeats.Add((first, second));
        }
        return [.. repeats];
    }

    private static string Entry(string section, int index, string key) =>
        string.Create(CultureInfo.InvariantCulture, $"{section}[{index + 1}].{key}");
}
