using EchoToThickness.Stacks;

namespace EchoToThickness.Storage.Foreign;

internal static class NativeLines
{
    public static IReadOnlyList<(string Line, IAScanSource Source)>? Open(string path) => null;
}
