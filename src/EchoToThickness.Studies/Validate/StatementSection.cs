namespace EchoToThickness.Studies.Validate;

/// <summary>A part of a statement: words, figures, and a plain table.</summary>
public sealed record StatementSection
{
    /// <summary>Title.</summary>
    public required string Title { get; init; }

    /// <summary>Name for machines, snake_case.</summary>
    public required string Key { get; init; }

    /// <summary>Paragraphs.</summary>
    public IReadOnlyList<string> Text { get; init; } = [];

    /// <summary>Figures.</summary>
    public IReadOnlyList<StatementRow> Rows { get; init; } = [];

    /// <summary>Headings of a plain table; empty for none.</summary>
    public IReadOnlyList<string> Columns { get; init; } = [];

    /// <summary>Its lines.</summary>
    public IReadOnlyList<IReadOnlyList<string>> Lines { get; init; } = [];
}
