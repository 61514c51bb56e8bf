using System.Security.Cryptography;
using System.Text;

namespace EchoToThickness.Procedures;

/// <summary>Procedures as TOML. Every quantity is text with its unit; the text written is complete and canonical.</summary>
public static class ProcedureText
{
    /// <summary>Reads a procedure. An empty text is the default procedure.</summary>
    /// <param name="toml">Text of the file.</param>
    /// <param name="fileName">Name for messages.</param>
    /// <exception cref="ProcedureException">Every fault found, each with file, line, column, key and the fix.</exception>
    public static Procedure Parse(string toml, string fileName) => Read(toml, fileName).Value;

    /// <summary>Reads a procedure and keeps the place of every key, for later messages.</summary>
    /// <param name="toml">Text of the file.</param>
    /// <param name="fileName">Name for messages.</param>
    /// <exception cref="ProcedureException">Every fault found, each with file, line, column, key and the fix.</exception>
    public static TomlDocument<Procedure> Read(string toml, string fileName) => Read(toml, fileName, []);

    /// <summary>The same with keys set from outside, in order; they replace what the file says.</summary>
    /// <param name="toml">Text of the file.</param>
    /// <param name="fileName">Name for messages.</param>
    /// <param name="overrides">Keys and values.</param>
    /// <exception cref="ProcedureException">Every fault found, those of overrides with their own place.</exception>
    public static TomlDocument<Procedure> Read(string toml, string fileName, IReadOnlyList<TomlOverride> overrides)
    {
        TomlDocument<Procedure> document = TomlBinder.Read<Procedure>(toml, fileName, overrides);
        IReadOnlyList<ProcedureFinding> findings = document.Locate(ProcedureCheck.Consistency(document.Value));
        return findings.Count == 0 ? document : throw new ProcedureException(findings);
    }

    /// <summary>
    /// Writes a procedure with every default, keys in a fixed order, lines ended by line feeds. Without comments the text is
    /// canonical: equal procedures give equal bytes.
    /// </summary>
    /// <param name="procedure">The procedure.</param>
    /// <param name="withComments">Whether each key carries its description as a comment.</param>
    public static string Write(Procedure procedure, bool withComments = false) =>
        TomlBinder.Write(procedure, withComments);

    /// <summary>SHA-256 of the canonical text in UTF-8, lower-case hexadecimal: the identity of a procedure.</summary>
    /// <param name="procedure">The procedure.</param>
    public static string Sha256(Procedure procedure) => Sha256OfText(Write(procedure));

    /// <summary>SHA-256 of a canonical text already written.</summary>
    /// <param name="canonicalText">What <see cref="Write"/> gave without comments.</param>
    internal static string Sha256OfText(string canonicalText) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(canonicalText)));
}
