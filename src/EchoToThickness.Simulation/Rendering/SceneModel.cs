using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Fields;
using EchoToThickness.Simulation.Instruments;
using EchoToThickness.Simulation.Plans;
using EchoToThickness.Simulation.Scenes;
using EchoToThickness.Simulation.Waves;
using EchoToThickness.Stacks;

namespace EchoToThickness.Simulation.Rendering;

/// <summary>A scene compiled: plan, wall, coats, coupling, echo model, instrument and faults. Immutable; threads share it.</summary>
public sealed class SceneModel
{
    private SceneModel(Scene scene, string folder)
    {
        Scene = scene;
        Shape = ComponentShape.Of(scene.Component);
        Geometry = ScanGeometry.Compile(scene);
        Time = SceneTimeBase.Of(scene, Shape);
        Wall = WallField.Compile(scene, folder);
        Surface = SurfaceField.Compile(scene);
        Waves = WaveModel.Compile(scene, folder);
        Coupling = CouplingField.Compile(scene, Shape, Geometry.Beams);
        Instrument = Instrument.Compile(scene, Time, NominalBackWall());
        Faults = ScanFaults.Compile(
            scene,
            [.. Enumerable.Range(0, Geometry.Lines).Select(line => Geometry.ShapeOf(line).Scans)]
        );
        CellFaults = new CellFaults(scene, Shape);
        Labels = new CellLabels(scene, Time, Geometry.Beams);
    }

    /// <summary>The scene.</summary>
    public Scene Scene { get; }

    /// <summary>The component with all its numbers.</summary>
    public ComponentShape Shape { get; }

    /// <summary>Where cells lie.</summary>
    public ScanGeometry Geometry { get; }

    /// <summary>The recorded time.</summary>
    public SceneTimeBase Time { get; }

    /// <summary>The wall.</summary>
    public WallField Wall { get; }

    /// <summary>Coats and deposits.</summary>
    public SurfaceField Surface { get; }

    /// <summary>The echo model.</summary>
    public WaveModel Waves { get; }

    /// <summary>The couplant.</summary>
    public CouplingField Coupling { get; }

    /// <summary>Receiver and digitiser.</summary>
    public Instrument Instrument { get; }

    /// <summary>Faults of the scan.</summary>
    public ScanFaults Faults { get; }

    /// <summary>Number of lines.</summary>
    public int Lines => Geometry.Lines;

    internal CellFaults CellFaults { get; }

    internal CellLabels Labels { get; }

    /// <summary>A-scans of all lines, those that will not be stored included.</summary>
    public long Cells => Enumerable.Range(0, Lines).Sum(line => Geometry.ShapeOf(line).Cells);

    /// <summary>Compiles a scene.</summary>
    /// <param name="scene">The scene.</param>
    /// <param name="folder">Folder from which the paths of pulse and profile files count.</param>
    /// <exception cref="ProcedureException">A scene that cannot be; every fault found, with its key.</exception>
    /// <exception cref="StackFormatException">A measured profile is missing or damaged.</exception>
    public static SceneModel Compile(Scene scene, string folder = ".")
    {
        ArgumentNullException.ThrowIfNull(scene);
        ArgumentNullException.ThrowIfNull(folder);
        SceneCheck.ThrowIfImpossible(scene);
        var model = new SceneModel(scene, folder);
        IReadOnlyList<ProcedureFinding> findings = WallCheck.Findings(model);
        return findings.Count == 0 ? model : throw new ProcedureException(findings);
    }

    /// <summary>What a stack of one line says of itself.</summary>
    /// <param name="line">Line, counted from 0.</param>
    public StackInfo InfoOf(int line) => SceneFacts.Info(this, line);

    /// <summary>Makes a renderer for one thread.</summary>
    public SceneRenderer CreateRenderer() => new(this);

    /// <summary>Peak of the first back-wall echo of a sound flat cell of nominal wall, fraction of full scale.</summary>
    private double NominalBackWall()
    {
        var cell = new CellView();
        cell.Reset();
        cell.CouplantMetres = Scene.Coupling.ThicknessMetres;
        cell.ThicknessMetres = Shape.NominalWallMetres;
        cell.Inner = Scene.Material.Inner;
        cell.RadiusAroundMetres = Shape.OutsideRadiusMetres;
        var samples = new float[Time.Samples];
        Waves.AddEchoes(
            cell,
            Time.StartSeconds,
            Time.SampleRateHz,
            samples,
            Waves.CreateWorkspace(),
            out EchoFacts facts
        );
        return Math.Abs(facts.BackWallAmplitude);
    }
}
