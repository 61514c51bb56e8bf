using System.Globalization;
using EchoToThickness.Procedures;

namespace EchoToThickness.Simulation.Scenes;

/// <summary>Lists of lines that name lines which are not scanned.</summary>
internal static class FaultRules
{
    public static void Check(Scene scene, List<ProcedureFinding> findings)
    {
        for (int i = 0; i < scene.Instrument.GainSteps.Count; i++)
            Lines(scene, scene.Instrument.GainSteps[i].Lines, Key("instrument.gain_step", i), findings);
        for (int i = 0; i < scene.Faults.Count; i++)
        {
            FaultEntry fault = scene.Faults[i];
            string key = Key("fault", i);
            Lines(scene, fault.Lines, key, findings);
            if (
                fault.LevelDecibels == 0
                && fault.Kind
                    is FaultKind.WeakBackWall
                        or FaultKind.SaturatedInterface
                        or FaultKind.RingDown
                        or FaultKind.GainStep
            )
                findings.Add(
                    new ProcedureFinding(
                        key + ".level",
                        "A level of 0 dB changes nothing.",
                        "write a level such as \"20 dB\"."
                    )
                );
            if (fault.Kind == FaultKind.RingDown && fault.LevelDecibels > 0)
                findings.Add(
                    new ProcedureFinding(
                        key + ".level",
                        "A tail cannot be stronger than the echo it follows.",
                        "write a level below 0 dB."
                    )
                );
            if (fault.Kind == FaultKind.DuplicateLine && fault.Lines.Contains(1))
                findings.Add(
                    new ProcedureFinding(
                        key + ".lines",
                        "Line 1 cannot repeat the line before it.",
                        "name a later line."
                    )
                );
        }
    }

    private static void Lines(Scene scene, IReadOnlyList<int> lines, string key, List<ProcedureFinding> findings)
    {
        foreach (int line in lines)
            if (line < 1 || (scene.Scan.Lines > 0 && line > scene.Scan.Lines))
                findings.Add(
                    new ProcedureFinding(
                        key + ".lines",
                        string.Create(
                            CultureInfo.InvariantCulture,
                            $"There is no line {line}; the scan has {scene.Scan.Lines}."
                        ),
                        "correct the list, or scan more lines."
                    )
                );
    }

    private static string Key(string list, int index) =>
        string.Create(CultureInfo.InvariantCulture, $"{list}[{index + 1}]");
}
