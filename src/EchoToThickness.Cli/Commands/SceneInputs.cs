using System.CommandLine;
using System.Text;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Procedures;
using EchoToThickness.Simulation.Rendering;
using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Cli.Commands;

/// <summary>The arguments that name a scene and change it on the command line.</summary>
internal sealed class SceneInputs
{
    private const long LongestSceneBytes = 4 << 20;

    private readonly Argument<string?> _file = new("SCENE")
    {
        Description = "Scene file (TOML); or use --scenario.",
        Arity = ArgumentArity.ZeroOrOne,
    };

    private readonly Option<string?> _scenario = new("--scenario")
    {
        Description = "A scenario that comes with the program, in place of SCENE; see --list.",
        HelpName = "NAME",
    };

    private readonly Option<string?> _pipeSize = new("--nps")
    {
        Description =
            "Another nominal pipe size, for scenes given by nps and schedule: sizes and walls from the tables.",
        HelpName = "SIZE",
    };

    private readonly Option<int?> _seed = new("--seed")
    {
        Description = "Another seed of everything random.",
        HelpName = "N",
        CustomParser = result => Numbers.Whole(0)(result),
    };

    private readonly Option<int?> _noiseSeed = new("--noise-seed")
    {
        Description = "Seed of noise, jitter and bubbles alone: another scan of the same wall.",
        HelpName = "N",
        CustomParser = result => Numbers.Whole(0)(result),
    };

    private readonly Option<double?> _years = new("--years")
    {
        Description = "Years of growth, for scenes with growth_per_year.",
        HelpName = "N",
        CustomParser = Numbers.Decimal(0, 200),
    };

    public void AddTo(Command command)
    {
        command.Add(_file);
        foreach (Option option in new Option[] { _scenario, _pipeSize, _seed, _noiseSeed, _years })
            command.Add(option);
    }

    /// <summary>Reads the scene that is meant, with the changes asked for.</summary>
    public Chosen Read(ParseResult parsed)
    {
        string? path = parsed.GetValue(_file);
        string? scenario = parsed.GetValue(_scenario);
        if ((path is null) == (scenario is null))
            throw new UserException(
                path is null ? "There is no scene." : "There are two scenes.",
                "give either a scene file or --scenario with a name; 'ett simulate --list' shows the names."
            );
        TomlDocument<Scene> document = path is null ? Shipped(scenario!) : FromFile(path);
        Scene scene = document.Value;
        if (parsed.GetValue(_seed) is { } seed)
            scene = scene with { Header = scene.Header with { Seed = seed } };
        if (parsed.GetValue(_noiseSeed) is { } noiseSeed)
            scene = scene with { Header = scene.Header with { NoiseSeed = noiseSeed } };
        if (parsed.GetValue(_years) is { } years)
            scene = scene with { Survey = scene.Survey with { Years = years } };
        if (parsed.GetValue(_pipeSize) is { } size)
            scene = scene.OfPipeSize(size);
        return new Chosen(document, scene, path);
    }

    private static TomlDocument<Scene> FromFile(string path)
    {
        Files.MustExist(path, "scene");
        if (new FileInfo(path).Length > LongestSceneBytes)
            throw new UserException($"{path} is larger than 4 MB, so it is no scene.", "give the scene's TOML file.");
        return SceneText.Read(File.ReadAllText(path, Encoding.UTF8), path);
    }

    private static TomlDocument<Scene> Shipped(string name)
    {
        if (SceneCatalog.Names.Contains(name))
            return SceneCatalog.Read(name);
        string hint = Guess.Nearest(name, SceneCatalog.Names) is { } guess ? $" Did you mean {guess}?" : "";
        throw new UserException(
            $"There is no scenario '{name}'.{hint}",
            $"choose one of {string.Join(", ", SceneCatalog.Names)}."
        );
    }

    /// <summary>A scene, as read and as changed.</summary>
    /// <param name="Document">The file, for the places of keys.</param>
    /// <param name="Scene">The scene with the changes of the command line.</param>
    /// <param name="Path">Its file; null for a shipped one.</param>
    internal sealed record Chosen(TomlDocument<Scene> Document, Scene Scene, string? Path)
    {
        /// <summary>Name for messages.</summary>
        public string Name => Document.FileName;

        /// <summary>Compiles the scene; faults carry the place of their key in the file.</summary>
        public SceneModel Compile()
        {
            string folder = Path is null
                ? "."
                : System.IO.Path.GetDirectoryName(System.IO.Path.GetFullPath(Path)) ?? ".";
            try
            {
                return SceneModel.Compile(Scene, folder);
            }
            catch (ProcedureException error) when (error.Findings.Any(f => f.Place.Length == 0))
            {
                throw new ProcedureException(Document.Locate(error.Findings), error);
            }
        }
    }
}
