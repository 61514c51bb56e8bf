using System.Globalization;
using System.Text;

namespace EchoToThickness.Studies.Validate;

/// <summary>A statement as Markdown for people.</summary>
public static class StatementMarkdown
{
    private const string Caution =
        "This statement is a calculation from the scans named in it. It does not qualify a procedure, a person or an instrument: codes, standards and the rules "
        + "that apply where the work is done come first, and a competent person has to judge and sign it.";

    /// <summary>The whole statement, lines ended by line feeds.</summary>
    /// <param name="statement">The statement.</param>
    public static string Write(ValidationStatement statement)
    {
        ArgumentNullException.ThrowIfNull(statement);
        ValidateStudy study = statement.Plan.Study;
        var text = new StringBuilder();
        text.Append(CultureInfo.InvariantCulture, $"# {study.Header.Name}\n\n");
        if (study.Header.Note.Length > 0)
            text.Append(CultureInfo.InvariantCulture, $"{study.Header.Note}\n\n");
        text.Append(CultureInfo.InvariantCulture, $"**{Summary(statement)}**\n\n");
        foreach (string warning in statement.Warnings)
            text.Append(CultureInfo.InvariantCulture, $"> Warning: {warning}\n>\n");
        text.Append(CultureInfo.InvariantCulture, $"> {Caution}\n\n");
        text.Append(Criteria(statement));
        foreach (StatementSection section in statement.Sections)
            Section(text, section);
        text.Append(
            "\n## Signature\n\n| | name | date | signature |\n|---|---|---|---|\n| made by | | | |\n| reviewed by | | | |\n"
        );
        return text.ToString();
    }

    /// <summary>Sections alone, as for the design of a study.</summary>
    /// <param name="sections">Sections.</param>
    public static string Write(IReadOnlyList<StatementSection> sections)
    {
        ArgumentNullException.ThrowIfNull(sections);
        var text = new StringBuilder();
        foreach (StatementSection section in sections)
            Section(text, section);
        return text.ToString().TrimStart('\n');
    }

    /// <summary>The verdict in one line.</summary>
    /// <param name="statement">The statement.</param>
    public static string Summary(ValidationStatement statement)
    {
        ArgumentNullException.ThrowIfNull(statement);
        int Count(CriterionVerdict verdict) => statement.Criteria.Count(c => c.Verdict == verdict);
        return statement.Criteria.Count == 0
            ? "The study sets no criteria: nothing passes or fails."
            : $"{VerdictWords.Of(statement.Verdict)}: of {statement.Criteria.Count} criteria {Count(CriterionVerdict.Pass)} passed, {Count(CriterionVerdict.Fail)} failed, {Count(CriterionVerdict.NotEnoughData)} without enough data.";
    }

    /// <summary>Criteria and verdicts as a table.</summary>
    /// <param name="statement">The statement.</param>
    public static string Criteria(ValidationStatement statement)
    {
        ArgumentNullException.ThrowIfNull(statement);
        if (statement.Criteria.Count == 0)
            return "";
        var text = new StringBuilder(
            "## Criteria\n\nThe unfavourable end of the interval decides, never the estimate alone.\n\n| criterion | limit | found | interval | n | verdict | |\n|---|---|---|---|---|---|---|\n"
        );
        foreach (CriterionResult result in statement.Criteria)
        {
            string reason = result.Criterion.Reason.Length > 0 ? $" ({result.Criterion.Reason})" : "";
            string side = result.Criterion.AtLeastFraction is null ? "at most" : "at least";
            text.Append(
                CultureInfo.InvariantCulture,
                $"| {VerdictWords.Of(result.Criterion.Quantity)} | {side} {Words.Value(result.Limit, result.Unit)} {Words.UnitOf(result.Unit)}{Cell(reason)} | {Words.Value(result.Figure.Value, result.Unit)} | {Words.IntervalOf(result.Figure, result.Unit)} | {Words.Count(result.Figure.Units)} | **{VerdictWords.Of(result.Verdict)}** | {Cell(result.Why)} |\n"
            );
        }
        return text.ToString();
    }

    /// <summary>A criterion in one line.</summary>
    /// <param name="result">The criterion.</param>
    public static string OneLine(CriterionResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        string side = result.Criterion.AtLeastFraction is null ? "at most" : "at least";
        string unit = Words.UnitOf(result.Unit);
        string interval = Words.IntervalOf(result.Figure, result.Unit);
        return $"{VerdictWords.Of(result.Criterion.Quantity)}: {Words.Value(result.Figure.Value, result.Unit)} {unit}{(interval == "-" ? "" : $" ({interval})")}, {side} {Words.Value(result.Limit, result.Unit)} {unit}; {result.Why}";
    }

    private static void Section(StringBuilder text, StatementSection section)
    {
        text.Append(CultureInfo.InvariantCulture, $"\n## {section.Title}\n\n");
        foreach (string paragraph in section.Text)
            text.Append(CultureInfo.InvariantCulture, $"{paragraph}\n\n");
        if (section.Rows.Count > 0)
        {
            text.Append(
                "| | value | interval | unit | n | degrees of freedom | method |\n|---|---|---|---|---|---|---|\n"
            );
            foreach (StatementRow row in section.Rows)
            {
                string note = row.Note.Length > 0 ? "; " + row.Note : "";
                string refusal = row.Figure.Refusal is { } why ? "; no interval: " + why.Message : "";
                text.Append(
                    CultureInfo.InvariantCulture,
                    $"| {Cell(row.Label)} | {Words.Value(row.Figure.Value, row.Unit)} | {Words.IntervalOf(row.Figure, row.Unit)} | {Words.UnitOf(row.Unit)} | {Words.Count(row.Figure.Units)} | {Words.Freedom(row.Figure.DegreesOfFreedom)} | {Cell(row.Figure.Method + note + refusal)} |\n"
                );
            }
        }
        if (section.Columns.Count == 0)
            return;
        if (section.Rows.Count > 0)
            text.Append('\n');
        text.Append(CultureInfo.InvariantCulture, $"| {string.Join(" | ", section.Columns.Select(Cell))} |\n");
        text.Append(CultureInfo.InvariantCulture, $"|{string.Concat(section.Columns.Select(_ => "---|"))}\n");
        foreach (IReadOnlyList<string> line in section.Lines)
            text.Append(CultureInfo.InvariantCulture, $"| {string.Join(" | ", line.Select(Cell))} |\n");
    }

    private static string Cell(string text) =>
        text.Replace("|", "\\|", StringComparison.Ordinal).Replace("\n", " ", StringComparison.Ordinal);
}
