using System.Globalization;
using EchoToThickness.Procedures;
using EchoToThickness.Studies.Running;

namespace EchoToThickness.Studies.StudyFiles;

/// <summary>Reads the procedures of a study, its changes made.</summary>
internal static class MethodReader
{
    public static StudyMethod[] Read(TomlDocument<CompareStudy> document, StudyFolder folder)
    {
        var findings = new List<ProcedureFinding>();
        var methods = new List<StudyMethod>();
        for (int i = 0; i < document.Value.Methods.Count; i++)
        {
            MethodSettings method = document.Value.Methods[i];
            string entry = string.Create(CultureInfo.InvariantCulture, $"method[{i + 1}]");
            try
            {
                string file = method.Procedure ?? document.FileName;
                string text = method.Procedure is null
                    ? ""
                    : StudyFolder.ReadText(
                        folder.Find(
                            method.Procedure,
                            "procedure",
                            entry + ".procedure",
                            document.PlaceOf(entry + ".procedure")
                        ),
                        method.Procedure
                    );
                Procedure procedure = ProcedureText
                    .Read(text, file, Changes(method.Set, entry + ".set", document.PlaceOf(entry + ".set")))
                    .Value;
                procedure = procedure with { Output = new OutputSettings { Layers = MethodResult.Layers } };
                methods.Add(
                    new StudyMethod(
                        method.Name,
                        procedure,
                        ProcedureText.Sha256(procedure with { Header = new ProcedureHeader() }),
                        method.Bound,
                        document.PlaceOf(entry)
                    )
                );
            }
            catch (ProcedureException error)
            {
                findings.AddRange(
                    error.Findings.Select(f =>
                        f with
                        {
                            Place = f.Place.Length == 0 ? document.PlaceOf(entry) : f.Place,
                            What = $"Method '{method.Name}': {f.What}",
                        }
                    )
                );
            }
        }
        return findings.Count == 0 ? [.. methods] : throw new ProcedureException(findings);
    }

    /// <summary>Lines such as <c>pairing.minimum_snr = 6 dB</c>, quotes optional.</summary>
    public static IReadOnlyList<TomlOverride> Changes(IReadOnlyList<string> lines, string key, string place)
    {
        var changes = new List<TomlOverride>();
        foreach (string line in lines)
        {
            int equals = line.IndexOf('=', StringComparison.Ordinal);
            string value = equals < 0 ? "" : line[(equals + 1)..].Trim();
            if (value.Length >= 2 && value[0] == value[^1] && value[0] is '"' or '\'')
                value = value[1..^1];
            if (equals <= 0 || value.Length == 0)
                throw new ProcedureException([
                    new ProcedureFinding(
                        key,
                        $"'{line}' sets nothing.",
                        "write key, equals sign and value, such as \"pairing.minimum_snr = 6 dB\"."
                    )
                    {
                        Place = place,
                    },
                ]);
            changes.Add(new TomlOverride(line[..equals].Trim(), value, place));
        }
        return changes;
    }
}
