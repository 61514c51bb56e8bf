using EchoToThickness.Procedures;

namespace EchoToThickness.Studies.Validate;

/// <summary>The page docs/validation-reference.md, made from the descriptions that the parser itself reads.</summary>
public static class ValidateReference
{
    /// <summary>The page, Markdown with line feeds.</summary>
    public static string Page() =>
        ReferencePage.Of(
            typeof(ValidateStudy),
            "Reference of validation studies",
            "A validation is a TOML file for `ett validate`. Every quantity is text with its unit (`\"8.6 mm\"`); a key that is left out has its "
                + "default; an unknown key is an error. How a validation is made and read: [validating](validating.md); an example: "
                + "[validations/blocks.toml](validations/blocks.toml). This page is made from the descriptions that the parser itself reads: run the "
                + "tests with `ETT_WRITE_DOCS=1` to write it anew."
        );
}
