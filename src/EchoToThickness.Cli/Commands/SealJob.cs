using EchoToThickness.Cli.Terminal;
using EchoToThickness.Studies.Validate;

namespace EchoToThickness.Cli.Commands;

/// <summary>Seals a drawing.</summary>
internal static class SealJob
{
    public static void Run(Talk talk, string path, string? output, string? passphrase)
    {
        if (passphrase is null)
            throw new UserException(
                "Nothing says under which passphrase to seal.",
                "give --passphrase-file with a file whose first line is the passphrase."
            );
        output ??= Path.ChangeExtension(path, ".sealed");
        if (File.Exists(output))
            throw new UserException(
                $"{output} is there already; another seal would break what was handed out.",
                "give another name with -o."
            );
        SealedDrawing found = SealedDrawing.Seal(
            File.ReadAllText(path),
            path,
            passphrase,
            TimeProvider.System.GetUtcNow()
        );
        Files.WriteText(output, found.Write());
        talk.Data.WriteLine($"{output}: drawing of {found.Block} sealed, commitment {found.Commitment}");
        talk.Say(
            "Hand out the sealed file and the commitment; keep the drawing and the passphrase until the submission is in your hands."
        );
    }
}
