using System.Globalization;
using EchoToThickness.Procedures;

namespace EchoToThickness.Components;

/// <summary>The reviewer's layer: decisions beside the machine's result, applied in order, the later one on top.</summary>
public sealed record OverruleFile
{
    /// <summary>SHA-256 of the grid the decisions are about.</summary>
    [ProcedureKey("grid_sha256", "SHA-256 of the grid file the decisions are about; another grid is refused.")]
    public string GridSha256 { get; init; } = "";

    /// <summary>The decisions.</summary>
    [ProcedureKey("overrule", "One decision.")]
    public IReadOnlyList<Overrule> Overrules { get; init; } = [];

    /// <summary>Reads the file.</summary>
    /// <param name="toml">Text.</param>
    /// <param name="fileName">Name for messages.</param>
    /// <exception cref="ProcedureException">Every fault found.</exception>
    public static OverruleFile Read(string toml, string fileName)
    {
        TomlDocument<OverruleFile> document = TomlBinder.Read<OverruleFile>(toml, fileName);
        var findings = new List<ProcedureFinding>();
        for (int k = 0; k < document.Value.Overrules.Count; k++)
        {
            Overrule o = document.Value.Overrules[k];
            string key = string.Create(CultureInfo.InvariantCulture, $"overrule[{k + 1}]");
            void Fault(string name, string what, string remedy) =>
                findings.Add(new ProcedureFinding($"{key}.{name}", what, remedy));
            if (string.IsNullOrWhiteSpace(o.Reason))
                Fault("reason", "A decision needs a reason.", "say why, in a sentence.");
            if (string.IsNullOrWhiteSpace(o.By))
                Fault("by", "A decision needs a name.", "say who decided.");
            if (!DateTimeOffset.TryParse(o.Time, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out _))
                Fault("time", $"'{o.Time}' is no time.", "write it as \"2026-03-01T14:30Z\".");
            if (o.Kind == OverruleKind.Replace && o.WallMetres is null)
                Fault("wall", "A replaced wall is not given.", "write wall = \"7.9 mm\" and its uncertainty.");
            if (o.Kind != OverruleKind.Replace && o.WallMetres is not null)
                Fault(
                    "wall",
                    "A wall is given, but nothing is replaced.",
                    "write kind = \"replace\", or leave wall out."
                );
            if (o.Kind == OverruleKind.Replace && o.UncertaintyMetres is null)
                Fault(
                    "uncertainty",
                    "The uncertainty of a replaced wall is not given.",
                    "write uncertainty = \"0.2 mm\"."
                );
        }
        return findings.Count == 0 ? document.Value : throw new ProcedureException([.. document.Locate(findings)]);
    }
}
