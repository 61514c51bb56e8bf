using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Studies.Compare;

/// <summary>The parts into which cells fall by what was planted in them; a cell may be in several.</summary>
internal static class PlantedParts
{
    /// <summary>Labels that take the sound off the metal: such a cell can only be refused.</summary>
    private const PlantedFailure Uncoupled =
        PlantedFailure.DryCoupling | PlantedFailure.Bubble | PlantedFailure.Dropped;

    /// <summary>Labels that take the wall's echo away although the sound enters the metal: nothing of the wall stands out to be read.</summary>
    private const PlantedFailure Unheard =
        PlantedFailure.ScatteredPit | PlantedFailure.WeakSignal | PlantedFailure.ClippedTimeBase;

    /// <summary>Words and what they choose: nothing planted, soundly coupled, then each label.</summary>
    public static IReadOnlyList<(string Words, Func<uint, bool> Has)> All { get; } =
    [
        ("nothing planted", planted => planted == 0),
        ("soundly coupled", planted => (planted & (uint)Uncoupled) == 0),
        ("soundly coupled, wall heard", planted => (planted & (uint)(Uncoupled | Unheard)) == 0),
        .. Enum.GetValues<PlantedFailure>()
            .Where(label => label != PlantedFailure.None)
            .Select(label => ("planted: " + Words(label), (Func<uint, bool>)(planted => (planted & (uint)label) != 0))),
    ];

    /// <summary>Place of a part in the order of tables; 0 for cells that are not chosen so.</summary>
    public static int PlaceOf(string? words) =>
        words is null ? 0 : 1 + Enumerable.Range(0, All.Count).First(i => All[i].Words == words);

    /// <summary><c>DryCoupling</c> as <c>dry coupling</c>.</summary>
    private static string Words(PlantedFailure label) =>
        string.Concat(
            label
                .ToString()
                .Select(
                    (c, i) =>
                        i > 0 && char.IsUpper(c) ? " " + char.ToLowerInvariant(c) : char.ToLowerInvariant(c).ToString()
                )
        );
}
