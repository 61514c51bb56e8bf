using EchoToThickness.Cli.Terminal;
using EchoToThickness.Storage.Grids;

namespace EchoToThickness.Cli.Commands;

/// <summary>Chooses the map that is meant in a grid file that may hold several.</summary>
internal static class GridMaps
{
    public static GridMap Choose(GridFile grid, string? line)
    {
        GridMap[] meant =
            line is null || grid.Maps.Count == 1 ? [.. grid.Maps] : [.. grid.Maps.Where(m => m.Name == line)];
        if (meant.Length == 1)
            return meant[0];
        string names = string.Join(", ", grid.Maps.Select(m => $"'{m.Name}'"));
        throw new UserException(
            line is null ? $"{grid.Path} holds {grid.Maps.Count} maps." : $"{grid.Path} has no map '{line}'.",
            $"choose one with --line: {names}."
        );
    }
}
