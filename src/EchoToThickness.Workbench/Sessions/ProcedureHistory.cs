namespace EchoToThickness.Workbench.Sessions;

/// <summary>The texts of a procedure while it is being turned: undo and redo walk over them; every text is one that the command line can read.</summary>
internal sealed class ProcedureHistory
{
    /// <summary>Texts kept; the oldest leave.</summary>
    public const int Most = 500;

    private readonly List<(string Text, string Label)> _texts;
    private int _at;
    private string _saved;

    public ProcedureHistory(string text)
    {
        _texts = [(text, "opened")];
        _saved = text;
    }

    public string Text => _texts[_at].Text;

    public bool IsSaved => Text == _saved;

    /// <summary>What undo would take back; null when there is nothing.</summary>
    public string? UndoLabel => _at > 0 ? _texts[_at].Label : null;

    /// <summary>What redo would do again; null when there is nothing.</summary>
    public string? RedoLabel => _at + 1 < _texts.Count ? _texts[_at + 1].Label : null;

    /// <summary>Adds a text; those that were undone are forgotten.</summary>
    public void Push(string text, string label)
    {
        if (text == Text)
            return;
        _texts.RemoveRange(_at + 1, _texts.Count - _at - 1);
        _texts.Add((text, label));
        if (_texts.Count > Most)
            _texts.RemoveAt(0);
        _at = _texts.Count - 1;
    }

    /// <summary>Walks; stops at either end.</summary>
    public void Step(int steps) => _at = Math.Clamp(_at + steps, 0, _texts.Count - 1);

    public void MarkSaved() => _saved = Text;
}
