using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>Scenes that cannot be: keys that contradict one another, the tables, or the physics of sampling.</summary>
/// <remarks>
/// What a single key may hold is checked when it is read. What depends on the whole wall (metal below zero where losses add up, a
/// lamination in thin air) is checked by <c>Rendering.SceneModel</c>, which has the wall.
/// </remarks>
public static class SceneCheck
{
    /// <summary>Every contradiction, in the order of the file.</summary>
    /// <param name="scene">The scene.</param>
    /// <returns>Findings with keys such as <c>wall.pit[2].depth</c>; empty when there is none.</returns>
    public static IReadOnlyList<ProcedureFinding> Findings(Scene scene)
    {
        ArgumentNullException.ThrowIfNull(scene);
        var findings = new List<ProcedureFinding>();
        ComponentShape? shape = ComponentRules.Resolve(scene.Component, findings);
        MaterialRules.Check(scene, findings);
        if (shape is not null)
            new WallRules(scene, shape, findings).Check();
        new ArrayRules(scene, shape, findings).Check();
        if (shape is not null)
            TimeRules.Check(scene, shape, findings);
        FaultRules.Check(scene, findings);
        return findings;
    }

    /// <summary>Throws when a scene cannot be; for scenes made in code.</summary>
    /// <param name="scene">The scene.</param>
    /// <exception cref="ProcedureException">Every contradiction found.</exception>
    public static void ThrowIfImpossible(Scene scene)
    {
        IReadOnlyList<ProcedureFinding> findings = Findings(scene);
        if (findings.Count > 0)
            throw new ProcedureException(findings);
    }
}
