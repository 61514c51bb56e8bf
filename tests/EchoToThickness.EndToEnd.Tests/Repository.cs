namespace EchoToThickness.EndToEnd.Tests;

/// <summary>The files of the repository, found from the folder the tests run in.</summary>
internal static class Repository
{
    /// <summary>The folder that holds the solution.</summary>
    public static string Root { get; } = Find();

    /// <summary>A path inside the repository.</summary>
    public static string File(params string[] parts) => Path.Combine([Root, .. parts]);

    private static string Find()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (System.IO.File.Exists(Path.Combine(folder.FullName, "EchoToThickness.sln")))
                return folder.FullName;
        }
        throw new DirectoryNotFoundException("The tests must run inside the repository.");
    }
}
