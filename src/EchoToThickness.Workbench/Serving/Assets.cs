using System.Reflection;

namespace EchoToThickness.Workbench.Serving;

/// <summary>The page's files, out of the assembly. Only names that it holds exist; there is no path to walk.</summary>
internal static class Assets
{
    private const string Prefix = "front/";

    private static readonly Dictionary<string, (byte[] Bytes, string Type)> Files = Load();

    public static IEnumerable<string> Names => Files.Keys;

    public static bool TryGet(string name, out byte[] bytes, out string type)
    {
        bool found = Files.TryGetValue(name.Length == 0 ? "index.html" : name, out (byte[] Bytes, string Type) file);
        (bytes, type) = found ? file : ([], "");
        return found;
    }

    private static Dictionary<string, (byte[], string)> Load()
    {
        Assembly assembly = typeof(Assets).Assembly;
        var files = new Dictionary<string, (byte[], string)>(StringComparer.Ordinal);
        foreach (string name in assembly.GetManifestResourceNames())
        {
            string path = name.Replace('\\', '/');
            if (!path.StartsWith(Prefix, StringComparison.Ordinal))
                continue;
            using Stream stream = assembly.GetManifestResourceStream(name)!;
            var bytes = new byte[stream.Length];
            stream.ReadExactly(bytes);
            files[path[Prefix.Length..]] = (bytes, TypeOf(path));
        }
        return files;
    }

    private static string TypeOf(string path) =>
        Path.GetExtension(path) switch
        {
            ".html" => "text/html; charset=utf-8",
            ".css" => "text/css; charset=utf-8",
            ".js" => "text/javascript; charset=utf-8",
            ".svg" => "image/svg+xml",
            _ => "text/plain; charset=utf-8",
        };
}
