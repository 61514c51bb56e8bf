using System.Text;

namespace EchoToThickness.Storage.Hdf5;

/// <summary>Stored elements to numbers and strings.</summary>
internal static class Hdf5Values
{
    public static bool IsNumeric(Hdf5Type type) =>
        type.IsStandard && type.Class is Hdf5TypeClass.Integer or Hdf5TypeClass.Float or Hdf5TypeClass.Enumeration;

    public static bool IsText(Hdf5Type type) => type.Class == Hdf5TypeClass.String || type.IsVariableString;

    public static double[] Doubles(ReadOnlySpan<byte> raw, Hdf5Type type, long count)
    {
        double[] values = new double[count];
        for (int i = 0; i < values.Length; i++)
            values[i] = Hdf5Numbers.ToDouble(raw.Slice(i * type.SizeBytes, type.SizeBytes), type);
        return values;
    }

    public static string[] Texts(ReadOnlySpan<byte> raw, Hdf5Type type, long count, Hdf5Source source, string where)
    {
        string[] texts = new string[count];
        for (int i = 0; i < texts.Length; i++)
        {
            ReadOnlySpan<byte> element = raw.Slice(i * type.SizeBytes, type.SizeBytes);
            ReadOnlySpan<byte> characters =
                type.Class == Hdf5TypeClass.String ? element : GlobalHeap.Get(element, 1, source, where).Span;
            int end = characters.IndexOf((byte)0);
            texts[i] = Encoding.UTF8.GetString(end < 0 ? characters : characters[..end]).TrimEnd(' ');
        }
        return texts;
    }
}
