using System.Numerics;
using System.Text;
using EchoToThickness.Simulation.Scenes;

namespace EchoToThickness.Simulation.Rendering;

/// <summary>Names of the labels as a stack file holds them: small letters and underscores, bit 0 first.</summary>
public static class PlantedNames
{
    /// <summary>Name of the label layer.</summary>
    public const string Layer = "planted";

    /// <summary>Name of every bit up to the highest one used; empty where a bit has no meaning.</summary>
    public static IReadOnlyList<string> All { get; } = Make();

    private static string[] Make()
    {
        PlantedFailure[] labels = [.. Enum.GetValues<PlantedFailure>().Where(label => label != PlantedFailure.None)];
        var names = new string[1 + labels.Max(label => BitOperations.Log2((uint)label))];
        Array.Fill(names, "");
        foreach (PlantedFailure label in labels)
            names[BitOperations.Log2((uint)label)] = Snake(label.ToString());
        return names;
    }

    private static string Snake(string name)
    {
        var text = new StringBuilder();
        foreach (char letter in name)
        {
            if (char.IsUpper(letter) && text.Length > 0)
                text.Append('_');
            text.Append(char.ToLowerInvariant(letter));
        }
        return text.ToString();
    }
}
