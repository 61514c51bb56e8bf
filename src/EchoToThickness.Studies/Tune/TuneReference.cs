using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Tune;

/// <summary>The reference page of files for <c>ett tune</c>.</summary>
public static class TuneReference
{
    /// <summary>The page <c>docs/tuning-reference.md</c>.</summary>
    public static string Page() =>
        ReferencePage.Of(
            typeof(TuneStudy),
            "Tuning reference",
            "A study is a TOML file for `ett tune`. Every quantity is text with its unit (`\"8.6 mm\"`); a key that is left out has its "
                + "default; an unknown key is an error. How to tune a procedure: [tuning](tuning.md); examples in [studies/](studies/). This page is "
                + "made from the descriptions that the parser itself reads: run the tests with `ETT_WRITE_DOCS=1` to write it anew."
        );
}
