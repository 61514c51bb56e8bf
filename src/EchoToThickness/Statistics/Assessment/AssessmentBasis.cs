namespace EchoToThickness.Statistics.Assessment;

/// <summary>What a result rests on. Printed with every figure.</summary>
/// <param name="Edition">Standard, edition and clause.</param>
/// <param name="Formula">The formula in words and symbols.</param>
/// <param name="IsVerified">False when formula or factor is known from memory only: prints "unverified".</param>
/// <param name="Note">What a reader has to know.</param>
public sealed record AssessmentBasis(string Edition, string Formula, bool IsVerified, string Note = "")
{
    /// <summary>Said of every result.</summary>
    public const string Caution = "screening; needs a competent person";

    /// <summary>One line for reports: edition, formula, caution, and "unverified" where that is so.</summary>
    public string Statement =>
        $"{Edition}: {Formula}. {Caution}{(IsVerified ? "" : "; unverified")}{(Note.Length > 0 ? ". " + Note : "")}";
}
