using EchoToThickness.Procedures;

namespace EchoToThickness.Workbench.Sessions;

/// <summary>One change of a procedure's text, as the page asks for it.</summary>
/// <param name="Kind">set, clear, add, remove or text.</param>
/// <param name="Key">Key, list or entry; empty for a whole text.</param>
/// <param name="Value">New value or whole text.</param>
/// <param name="Values">Keys and values of a new entry.</param>
internal sealed record ProcedureEdit(
    string Kind,
    string Key,
    string Value,
    IReadOnlyList<(string Key, string Value)> Values
)
{
    /// <summary>Applies changes in order; comments and order of the text stay.</summary>
    public static string Apply(string text, IReadOnlyList<ProcedureEdit> edits)
    {
        foreach (ProcedureEdit edit in edits)
            text = edit.Kind switch
            {
                "set" => TomlEditor.Set<Procedure>(text, edit.Key, edit.Value),
                "clear" => TomlEditor.Clear<Procedure>(text, edit.Key),
                "add" => TomlEditor.AddEntry<Procedure>(text, edit.Key, edit.Values),
                "remove" => TomlEditor.RemoveEntry<Procedure>(text, edit.Key),
                "text" => edit.Value,
                _ => throw new WorkbenchException($"'{edit.Kind}' is no kind of change.", "reload the page."),
            };
        return text;
    }
}
