using EchoToThickness.Measurement;
using EchoToThickness.Procedures;
using EchoToThickness.Studies.Searching;
using EchoToThickness.Studies.Sources;
using EchoToThickness.Studies.StudyFiles;

namespace EchoToThickness.Studies.Tune;

/// <summary>A search read and checked: the space of rule sets, the stacks, the objectives.</summary>
public sealed class TunePlan
{
    private readonly string _baseText;
    private readonly string _baseFile;
    private readonly IReadOnlyList<TomlOverride> _baseChanges;
    private readonly Dictionary<string, string> _refusals = [];

    private TunePlan(TuneStudy study, string text, string file, IReadOnlyList<TomlOverride> changes)
    {
        Study = study;
        _baseText = text;
        _baseFile = file;
        _baseChanges = changes;
    }

    /// <summary>The study as written, defaults filled in.</summary>
    public TuneStudy Study { get; }

    /// <summary>SHA-256 of its canonical text.</summary>
    public string StudySha256 { get; private init; } = "";

    /// <summary>What is varied.</summary>
    public IReadOnlyList<VaryAxis> Axes { get; private init; } = [];

    /// <summary>The space.</summary>
    public IReadOnlyList<SearchAxis> Space => [.. Axes.Select(a => a.Axis)];

    /// <summary>The stacks.</summary>
    public IReadOnlyList<StudyPoint> Points { get; private init; } = [];

    /// <summary>Numbers of the points that are scans of the same place.</summary>
    public IReadOnlyList<(int First, int Second)> Repeats { get; private init; } = [];

    /// <summary>What is to be small.</summary>
    public IReadOnlyList<Objective> Objectives { get; private init; } = [];

    /// <summary>The procedure that the search begins with.</summary>
    public RuleSet Base { get; private set; } = null!;

    /// <summary>The base procedure as its file has it, with its own header and layers.</summary>
    public Procedure BaseProcedure { get; private set; } = new();

    /// <summary>Cells of all stacks.</summary>
    public long Cells => Points.Sum(p => Enumerable.Range(0, p.Blocks).Sum(b => p.InfoOf(b).Shape.Cells));

    /// <summary>Whether the walls are known.</summary>
    public bool KnowsTruth => Study.Judge.Truth == TruthChoice.Known;

    /// <summary>Why combinations of values were refused by the procedure's own rules: reason, number of combinations.</summary>
    public IReadOnlyList<(string Reason, int Count)> Refusals =>
        [
            .. _refusals
                .Values.GroupBy(r => r)
                .Select(g => (g.Key, g.Count()))
                .OrderByDescending(r => r.Item2)
                .ThenBy(r => r.Key, StringComparer.Ordinal),
        ];

    /// <summary>Reads a study and everything it names.</summary>
    /// <param name="path">Study file (TOML). Files it names are looked for beside it.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ProcedureException">Every fault found, with file, line, key and the fix.</exception>
    /// <exception cref="Stacks.StackFormatException">A stack cannot be read or has no truth.</exception>
    public static TunePlan Read(string path, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(path);
        TomlDocument<TuneStudy> document = TomlBinder.Read<TuneStudy>(StudyFolder.ReadText(path, path), path);
        TuneStudy study = document.Value;
        var findings = new List<ProcedureFinding>();
        Objective[] objectives = TuneCheck.Run(document, findings);
        if (findings.Count > 0)
            throw new ProcedureException(findings);
        var folder = new StudyFolder(path);
        string file = study.Base.Procedure ?? path;
        string text = study.Base.Procedure is { } name
            ? StudyFolder.ReadText(
                folder.Find(name, "procedure", "base.procedure", document.PlaceOf("base.procedure")),
                name
            )
            : "";
        IReadOnlyList<TomlOverride> changes = MethodReader.Changes(
            study.Base.Set,
            "base.set",
            document.PlaceOf("base.set")
        );
        Procedure own = ProcedureText.Read(text, file, changes).Value;
        VaryAxis[] axes =
        [
            .. study.Vary.Select(
                (v, i) =>
                    new VaryAxis(
                        v,
                        string.Create(System.Globalization.CultureInfo.InvariantCulture, $"vary[{i + 1}]"),
                        document.PlaceOf,
                        study.Search.Method == SearchMethod.Grid
                    )
            ),
        ];
        TuneCheck.Axes(axes, document, text, file, changes);
        IReadOnlyList<StudyPoint> points = PointReader.Read(
            document.With(
                new CompareStudy
                {
                    Header = new StudyHeader { Seed = study.Header.Seed },
                    Scenes = study.Scenes,
                    Stacks = study.Stacks,
                }
            ),
            folder,
            cancellation,
            study.Judge.Truth == TruthChoice.Known
        );
        var plan = new TunePlan(study, text, file, changes)
        {
            StudySha256 = ContentHash.Of(TomlBinder.Write(study)),
            Axes = axes,
            Points = points,
            Objectives = objectives,
            Repeats = TuneCheck.Repeats(document, points),
            BaseProcedure = own,
        };
        plan.Base = plan.Made([], [], own, RuleSetOrigin.Base);
        if (plan.RefusalOf(plan.Base) is { } error)
            throw error;
        return plan;
    }

    /// <summary>The rule set at a point.</summary>
    /// <param name="point">Shape [axis]; snapped to the places of the axes.</param>
    /// <param name="origin">How it came about.</param>
    /// <returns>The rule set; null when the procedure's rules, or a stack, refuse the combination (see <see cref="Refusals"/>).</returns>
    public RuleSet? At(double[] point, RuleSetOrigin origin)
    {
        ArgumentNullException.ThrowIfNull(point);
        double[] snapped = [.. point.Select((p, i) => Axes[i].Axis.Snap(p))];
        string[] texts = [.. snapped.Select((p, i) => Axes[i].TextAt(p))];
        string key = string.Join('\n', texts);
        if (_refusals.ContainsKey(key))
            return null;
        try
        {
            Procedure procedure = ProcedureText
                .Read(_baseText, _baseFile, [.. _baseChanges, .. snapped.SelectMany((p, i) => Axes[i].ChangesAt(p))])
                .Value;
            RuleSet made = Made(snapped, texts, procedure, origin);
            if (RefusalOf(made) is { } refused)
                throw refused;
            return made;
        }
        catch (ProcedureException error)
        {
            ProcedureFinding first = error.Findings[0];
            _refusals[key] = first.Key.Length > 0 ? $"{first.Key}: {first.What}" : first.What;
            return null;
        }
    }

    /// <summary>The procedure of a rule set as a file has it: with the layers of the base.</summary>
    /// <param name="ruleSet">The rule set.</param>
    public Procedure WholeOf(RuleSet ruleSet)
    {
        ArgumentNullException.ThrowIfNull(ruleSet);
        return ruleSet.Procedure with { Header = BaseProcedure.Header, Output = BaseProcedure.Output };
    }

    private RuleSet Made(double[] point, string[] texts, Procedure procedure, RuleSetOrigin origin) =>
        new(
            point,
            texts,
            procedure with
            {
                Output = new OutputSettings { Layers = TuneScorer.LayersFor(Objectives) },
            },
            ProcedureText.Sha256(procedure with { Header = new ProcedureHeader(), Output = new OutputSettings() }),
            origin
        );

    private ProcedureException? RefusalOf(RuleSet ruleSet)
    {
        foreach (StudyPoint point in Points)
        {
            try
            {
                MeasurementPlan.Compile(ruleSet.Procedure, point.InfoOf(0)).CheckMeasurer();
            }
            catch (ProcedureException error)
            {
                return new ProcedureException(
                    [.. error.Findings.Select(f => f with { What = $"{point} cannot be measured: {f.What}" })],
                    error
                );
            }
        }
        return null;
    }
}
