namespace EchoToThickness.Simulation.Tests.Layers;

/// <summary>Files of the repository, found upwards from the test binary.</summary>
internal static class Checks
{
    public static string PathOf(params string[] parts)
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "EchoToThickness.sln")))
                return Path.Combine([folder.FullName, .. parts]);
        }
        throw new DirectoryNotFoundException("The tests must run from inside the repository.");
    }
}
