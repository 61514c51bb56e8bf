using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>The page docs/scene-reference.md, made from the descriptions that the parser itself reads.</summary>
public static class SceneReference
{
    /// <summary>The page, Markdown with line feeds.</summary>
    public static string Page() =>
        ReferencePage.Of(
            typeof(Scene),
            "Scene reference",
            "A scene is a TOML file from which `ett simulate` makes a stack with known truth. Every quantity is text with its unit "
                + "(`\"8.6 mm\"`); a key that is left out has its default; an unknown key is an error. Positions count along the component "
                + "(on an elbow from the start of the bend, on its centre line) and around it (from the extrados, clockwise looking "
                + "downstream; across a plate from its edge). Positions given as angles or fractions and depths given as fractions of the "
                + "nominal wall scale with the pipe size. Examples: [scenarios](scenarios/README.md). The model: "
                + "[theory](theory/simulation.md). This page is made from the descriptions that the parser itself reads: run the tests "
                + "with `ETT_WRITE_DOCS=1` to write it anew."
        );
}
