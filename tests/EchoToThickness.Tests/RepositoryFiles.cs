namespace EchoToThickness.Tests;

/// <summary>Files of the repository, found upwards from the test binary.</summary>
internal static class RepositoryFiles
{
    /// <summary>Folder that holds the solution.</summary>
    public static string Root { get; } = FindRoot();

    /// <summary>Full path of a file of the repository.</summary>
    /// <param name="parts">Path below the root.</param>
    public static string PathOf(params string[] parts) => Path.Combine([Root, .. parts]);

    private static string FindRoot()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "EchoToThickness.sln")))
                return folder.FullName;
        throw new DirectoryNotFoundException("The tests must run from inside the repository.");
    }
}
