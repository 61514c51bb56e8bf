using System.Globalization;
using System.Text.Json;
using System.Text.Json.Serialization;
using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Validate;

/// <summary>What was measured before the seals were opened: a file that the keeper is given in exchange for the passphrase.</summary>
public sealed record BlindSubmission
{
    private const string Form = "blind submission 1";
    private static readonly JsonSerializerOptions Json = new()
    {
        WriteIndented = true,
        NewLine = "\n",
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
    };

    /// <summary>Marks the form of file.</summary>
    public string Format { get; init; } = Form;

    /// <summary>When it was made, by the clock of the machine that measured.</summary>
    public required DateTimeOffset SubmittedAt { get; init; }

    /// <summary>SHA-256 of the study.</summary>
    public required string StudySha256 { get; init; }

    /// <summary>SHA-256 of the procedure.</summary>
    public required string ProcedureSha256 { get; init; }

    /// <summary>SHA-256 of each stack, by scan.</summary>
    public required IReadOnlyDictionary<string, string> StackSha256 { get; init; }

    /// <summary>SHA-256 of all measured walls, uncertainties and statuses.</summary>
    public required string ResultsSha256 { get; init; }

    /// <summary>Commitments of the sealed drawings, by block.</summary>
    public required IReadOnlyDictionary<string, string> Commitments { get; init; }

    /// <summary>Makes a submission.</summary>
    /// <param name="plan">The study, sealed.</param>
    /// <param name="resultsSha256">SHA-256 of what was measured.</param>
    /// <param name="now">Clock.</param>
    public static BlindSubmission Of(ValidatePlan plan, string resultsSha256, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(plan);
        return new BlindSubmission
        {
            SubmittedAt = now,
            StudySha256 = plan.StudySha256,
            ProcedureSha256 = plan.ProcedureSha256,
            StackSha256 = new SortedDictionary<string, string>(
                plan.Scans.ToDictionary(s => s.Name, s => s.Sha256),
                StringComparer.Ordinal
            ),
            ResultsSha256 = resultsSha256,
            Commitments = CommitmentsOf(plan),
        };
    }

    /// <summary>As a file, UTF-8 JSON with line feeds.</summary>
    public string Write() => JsonSerializer.Serialize(this, Json) + "\n";

    /// <summary>Reads a file.</summary>
    /// <param name="text">Text.</param>
    /// <param name="fileName">Name for messages.</param>
    /// <exception cref="ProcedureException">It is damaged or something else.</exception>
    public static BlindSubmission Read(string text, string fileName)
    {
        try
        {
            if (JsonSerializer.Deserialize<BlindSubmission>(text, Json) is { Format: Form } found)
                return found;
        }
        catch (JsonException error)
        {
            throw new ProcedureException(
                $"The submission cannot be read: {error.Message}",
                fileName,
                "give the file as 'ett validate --submit' wrote it."
            );
        }
        throw new ProcedureException(
            "The file is no submission of this form.",
            fileName,
            "give the file as 'ett validate --submit' wrote it."
        );
    }

    /// <summary>What the statement says of the order of events.</summary>
    /// <param name="plan">The study, opened.</param>
    /// <param name="submission">What was submitted; null when nothing was.</param>
    /// <param name="resultsSha256">SHA-256 of what is measured now.</param>
    /// <param name="openedAt">When the seals were opened.</param>
    public static (StatementSection Section, IReadOnlyList<string> Warnings) Describe(
        ValidatePlan plan,
        BlindSubmission? submission,
        string resultsSha256,
        DateTimeOffset openedAt
    )
    {
        ArgumentNullException.ThrowIfNull(plan);
        var warnings = new List<string>();
        var lines = new List<IReadOnlyList<string>>();
        foreach (
            SealedDrawing seal in plan.Scans.Select(s => s.Sealed).OfType<SealedDrawing>().DistinctBy(s => s.Commitment)
        )
            lines.Add([Time(seal.SealedAt), $"drawing of {seal.Block} sealed", "commitment " + seal.Commitment]);
        if (submission is null)
            warnings.Add(
                "The drawings were sealed, but no results were submitted before they were opened: the study is not blind."
            );
        else
        {
            lines.Add([Time(submission.SubmittedAt), "results submitted", "results " + submission.ResultsSha256]);
            if (submission.ProcedureSha256 != plan.ProcedureSha256)
                warnings.Add("The procedure is not the one whose results were submitted.");
            if (submission.ResultsSha256 != resultsSha256)
                warnings.Add(
                    "What is measured now is not what was submitted: scans, procedure or program were changed after the seals were opened."
                );
            if (!CommitmentsOf(plan).OrderBy(p => p.Key).SequenceEqual(submission.Commitments.OrderBy(p => p.Key)))
                warnings.Add("The drawings are not those that were sealed when results were submitted.");
            if (submission.StudySha256 != plan.StudySha256)
                warnings.Add(
                    "The study file was changed after results were submitted: criteria, claim or groups may have been chosen with the truth in view."
                );
            if (plan.Scans.Any(s => s.Sealed is { } seal && seal.SealedAt > submission.SubmittedAt))
                warnings.Add("A drawing was sealed after results were submitted.");
            if (submission.SubmittedAt > openedAt)
                warnings.Add("The submission is younger than the opening of the seals.");
        }
        lines.Add([Time(openedAt), "seals opened", "results " + resultsSha256]);
        return (
            new StatementSection
            {
                Title = "Order of events",
                Key = "events",
                Text =
                [
                    submission is not null && warnings.Count == 0
                        ? "The truth was sealed before results were submitted, and the results were submitted before the seals were opened; nothing was changed since."
                        : "The order of events does not show a blind study; see the warnings.",
                    "Times are those of the clocks of the machines and prove nothing by themselves; the hashes do, if the keeper of the block received the submission before handing out the passphrase.",
                ],
                Columns = ["time", "event", "hash"],
                Lines = lines,
            },
            warnings
        );
    }

    private static SortedDictionary<string, string> CommitmentsOf(ValidatePlan plan)
    {
        var found = new SortedDictionary<string, string>(StringComparer.Ordinal);
        foreach (PlacedScan scan in plan.Scans)
            if (scan.Sealed is { } seal)
                found[seal.Block] = seal.Commitment;
        return found;
    }

    private static string Time(DateTimeOffset time) =>
        time.ToUniversalTime().ToString("yyyy-MM-dd HH:mm:ss 'UTC'", CultureInfo.InvariantCulture);
}
