namespace EchoToThickness.Storage.Foreign;

/// <summary>Splits the Python dictionary in a <c>.npy</c> header into keys and the text of their values. Evaluates nothing.</summary>
internal sealed class NpyHeaderText(string text)
{
    private int _at;

    /// <summary>Keys and trimmed text of their values; null when the text is not one flat dictionary.</summary>
    public Dictionary<string, string>? Fields()
    {
        Dictionary<string, string> fields = [];
        Skip();
        if (!Take('{'))
            return null;
        while (true)
        {
            Skip();
            if (Take('}'))
                break;
            if (Quoted() is not { } key)
                return null;
            Skip();
            if (!Take(':') || Value() is not { } value || !fields.TryAdd(key, value))
                return null;
            Skip();
            if (!Take(',') && !(_at < text.Length && text[_at] == '}'))
                return null;
        }
        Skip();
        return _at == text.Length ? fields : null;
    }

    private string? Quoted()
    {
        if (_at >= text.Length || text[_at] is not ('\'' or '"'))
            return null;
        int end = text.IndexOf(text[_at], _at + 1);
        if (end < 0)
            return null;
        string inner = text[(_at + 1)..end];
        _at = end + 1;
        return inner;
    }

    /// <summary>Text up to the comma or brace that ends the value; brackets and quotes are skipped over.</summary>
    private string? Value()
    {
        int begin = _at;
        int depth = 0;
        while (_at < text.Length)
        {
            char c = text[_at];
            if (c is '\'' or '"')
            {
                if (Quoted() is null)
                    return null;
                continue;
            }
            if (c is '(' or '[')
                depth++;
            if (c is ')' or ']' && --depth < 0)
                return null;
            if (depth == 0 && c is ',' or '}')
                break;
            _at++;
        }
        string value = text[begin.._at].Trim();
        return value.Length == 0 || depth != 0 ? null : value;
    }

    private void Skip()
    {
        while (_at < text.Length && char.IsWhiteSpace(text[_at]))
            _at++;
    }

    private bool Take(char c)
    {
        if (_at >= text.Length || text[_at] != c)
            return false;
        _at++;
        return true;
    }
}
