using System.Globalization;
using EchoToThickness.Cli.Terminal;
using EchoToThickness.Procedures;
using EchoToThickness.Studies.StudyFiles;
using EchoToThickness.Units;

namespace EchoToThickness.Cli.Commands;

/// <summary>The list of keys that a study can sweep or set.</summary>
internal static class SweepKeys
{
    private static readonly (string Word, Type Type)[] Known =
    [
        ("plate", typeof(PlateSettings)),
        ("scene", typeof(Simulation.Scenes.Scene)),
        ("procedure", typeof(Procedure)),
        ("study", typeof(CompareStudy)),
    ];

    public static void Print(Talk talk, string what)
    {
        Type type =
            Known.FirstOrDefault(k => k.Word == what).Type
            ?? throw new UserException(
                $"There is no list of '{what}'.",
                $"write --list with one of: {string.Join(", ", Known.Select(k => k.Word))}."
            );
        talk.Data.Write(TextLayout.List(Keys(type, ""), Talk.Columns));
    }

    private static IEnumerable<(string, string)> Keys(Type type, string path)
    {
        foreach (KeyDescription key in KeyDescription.Of(type))
        {
            string name = path + key.Key;
            if (!key.IsSection)
                yield return (name, key.Attribute.Description + Form(key));
            else
                foreach ((string, string) deeper in Keys(key.ValueType, key.IsList ? $"{name}[1]." : $"{name}."))
                    yield return deeper;
        }
    }

    private static string Form(KeyDescription key)
    {
        string form =
            key.Attribute.Dimension is { } dimension ? UnitText.Example(dimension)
            : key.ValueType.IsEnum
                ? string.Join(" | ", KeyDescription.ChoicesOf(key.ValueType).Select(c => c.Choice.Word))
            : key.ValueType == typeof(bool) ? "true | false"
            : key.ValueType == typeof(int) || key.ValueType == typeof(long) ? "12"
            : key.ValueType == typeof(double) ? "1.5"
            : "text";
        return string.Create(CultureInfo.InvariantCulture, $" [{(key.IsList ? "list of " : "")}{form}]");
    }
}
