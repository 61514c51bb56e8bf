using EchoToThickness.Procedures;
using EchoToThickness.Stacks;
using EchoToThickness.Storage.Foreign;
using EchoToThickness.Units;

namespace EchoToThickness.Storage.Layouts;

/// <summary>Reads layout maps and checks what can be checked without the stack.</summary>
public static class LayoutFile
{
    private const int MaximumBytes = 1 << 20;

    /// <summary>Reads a layout map.</summary>
    /// <param name="path">TOML file.</param>
    /// <exception cref="StackFormatException">The file cannot be opened.</exception>
    /// <exception cref="ProcedureException">Every fault with file, line, key and fix.</exception>
    public static TomlDocument<LayoutMap> Read(string path)
    {
        ArgumentNullException.ThrowIfNull(path);
        if (ForeignFile.Length(path) > MaximumBytes)
        {
            throw new StackFormatException(
                $"The layout map is larger than {MaximumBytes} bytes.",
                path,
                "",
                "give the layout map (a small TOML file), not the stack."
            );
        }
        string text = System.Text.Encoding.UTF8.GetString(ForeignFile.Head(path, MaximumBytes));
        return Parse(text.TrimStart('\uFEFF'), path);
    }

    /// <summary>Reads a layout map from text.</summary>
    /// <param name="toml">Text.</param>
    /// <param name="fileName">Name for messages.</param>
    /// <exception cref="ProcedureException">Every fault with file, line, key and fix.</exception>
    public static TomlDocument<LayoutMap> Parse(string toml, string fileName)
    {
        TomlDocument<LayoutMap> document = TomlBinder.Read<LayoutMap>(toml, fileName);
        List<ProcedureFinding> findings = [.. document.Locate(Check(document.Value))];
        if (findings.Count > 0)
            throw new ProcedureException(findings);
        return document;
    }

    private static IEnumerable<ProcedureFinding> Check(LayoutMap map)
    {
        TimeLayout time = map.Time;
        int bases = (time.SampleRate is null ? 0 : 1) + (time.Interval is null ? 0 : 1) + (time.Axis is null ? 0 : 1);
        if (bases != 1)
        {
            yield return new ProcedureFinding(
                "time",
                bases == 0 ? "The time base is missing." : "The time base is given more than once.",
                "give one of sample_rate, interval and axis, such as sample_rate = { value = \"100 MHz\" }."
            );
        }
        if (time.Axis is not null && time.Start is not null)
        {
            yield return new ProcedureFinding("time.start", "'axis' already gives the start.", "leave start out.");
        }
        foreach (LayoutFacts.Fact fact in LayoutFacts.Of(map))
        {
            if (fact.Source is { } source)
            {
                foreach (ProcedureFinding finding in Check(fact, source))
                    yield return finding;
            }
        }
        foreach (ProcedureFinding finding in Check(map.Samples))
            yield return finding;
    }

    private static IEnumerable<ProcedureFinding> Check(LayoutFacts.Fact fact, ValueSource source)
    {
        bool steps = source.First is not null || source.Step is not null;
        int forms =
            (source.Attribute is null ? 0 : 1)
            + (source.Dataset is null ? 0 : 1)
            + (source.Value is null ? 0 : 1)
            + (steps ? 1 : 0);
        if (forms != 1)
        {
            yield return new ProcedureFinding(
                fact.Key,
                forms == 0 ? "The fact has no source." : "The fact has more than one source.",
                "give one of attribute, dataset and value" + (IsPositions(fact) ? ", or first with step." : ".")
            );
            yield break;
        }
        if (steps && (!IsPositions(fact) || source.First is null || source.Step is null))
        {
            yield return new ProcedureFinding(
                fact.Key,
                "'first' and 'step' belong together, and to positions only.",
                "write { first = \"0 mm\", step = \"1 mm\" } under [positions]."
            );
        }
        if (source.Attribute is { } attribute && !attribute.Contains('@', StringComparison.Ordinal))
        {
            yield return new ProcedureFinding(
                fact.Key + ".attribute",
                $"'{attribute}' does not say which object carries the attribute.",
                $"write the object, '@' and the name: \"/ascans@{attribute}\", or \"@{attribute}\" for the file itself."
            );
        }
        if (!double.IsFinite(source.Scale) || source.Scale == 0)
            yield return new ProcedureFinding(
                fact.Key + ".scale",
                "The scale must be a number other than 0.",
                "correct it."
            );
        foreach (ProcedureFinding finding in CheckUnits(fact, source))
            yield return finding;
    }

    private static IEnumerable<ProcedureFinding> CheckUnits(LayoutFacts.Fact fact, ValueSource source)
    {
        if (source.Unit is { } unit)
        {
            if (source.Attribute is null && source.Dataset is null)
                yield return new ProcedureFinding(
                    fact.Key + ".unit",
                    "A constant carries its unit itself.",
                    "write it into the value."
                );
            else if (fact.Dimension is not { } dimension)
                yield return new ProcedureFinding(
                    fact.Key + ".unit",
                    "This fact is a plain number.",
                    "leave unit out."
                );
            else if (Fault("1 " + unit, dimension) is { } fault)
                yield return new ProcedureFinding(fact.Key + ".unit", $"The unit '{unit}' does not fit.", fault.Remedy);
        }
        foreach (
            (string key, string? text) in new[]
            {
                ("value", source.Value),
                ("first", source.First),
                ("step", source.Step),
            }
        )
        {
            if (text is null)
                continue;
            if (fact.Dimension is { } dimension)
            {
                if (Fault(text, dimension) is { } fault)
                    yield return new ProcedureFinding(fact.Key + "." + key, fault.What, fault.Remedy);
            }
            else if (!ConstantNumber.TryParse(text, out _))
            {
                yield return new ProcedureFinding(
                    fact.Key + "." + key,
                    $"'{text}' is not a plain number.",
                    "write digits only, in quotes, such as \"64\"."
                );
            }
        }
    }

    private static IEnumerable<ProcedureFinding> Check(SamplesLayout samples)
    {
        if (samples.FullScaleCounts is { } full && !(full > 0))
            yield return new ProcedureFinding(
                "samples.full_scale",
                "The full scale must be above 0.",
                "give the counts of full scale."
            );
        if (samples.LowerRailCounts is { } low && samples.UpperRailCounts is { } high && low >= high)
            yield return new ProcedureFinding(
                "samples.lower_rail",
                $"The lower rail {low} is not below the upper {high}.",
                "exchange them."
            );
        if (samples.Extent.Count > 0 && samples.Extent.Count != samples.Axes.Count)
        {
            yield return new ProcedureFinding(
                "samples.extent",
                $"{samples.Extent.Count} extents for {samples.Axes.Count} axes.",
                "give one extent for each of axes, in the same order."
            );
        }
        if (samples.Extent.Any(e => e < 0) || samples.Extent.Count(e => e == 0) > 1)
            yield return new ProcedureFinding(
                "samples.extent",
                "Extents must be positive; one may be 0.",
                "correct them."
            );
    }

    private static bool IsPositions(LayoutFacts.Fact fact) =>
        fact.Extent is LayoutFacts.Extent.Scans or LayoutFacts.Extent.Beams;

    private static UnitException? Fault(string text, Dimension dimension)
    {
        try
        {
            UnitText.Parse(text, dimension);
            return null;
        }
        catch (UnitException e)
        {
            // A fraction may be a plain number.
            return dimension == Dimension.Fraction && ConstantNumber.TryParse(text, out _) ? null : e;
        }
    }
}
