using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using EchoToThickness.Procedures;
using EchoToThickness.Studies.Drawings;

namespace EchoToThickness.Studies.Validate;

/// <summary>A drawing that nobody can read before its keeper gives the passphrase, and nobody can change without being found out.</summary>
/// <remarks>
/// The text is encrypted with AES-256 in Galois/Counter mode (NIST SP 800-38D) under a key from the passphrase by PBKDF2 with SHA-256 (RFC 8018,
/// 600,000 rounds). The commitment is the SHA-256 of a random salt of 32 bytes and the text: it can be handed out, or printed, when the block is
/// scanned, binds the keeper to the text and tells nothing of it.
/// </remarks>
public sealed record SealedDrawing
{
    /// <summary>Rounds of the key derivation.</summary>
    public const int Rounds = 600_000;

    private const string Form = "sealed drawing 1";
    private static readonly JsonSerializerOptions Json = new()
    {
        WriteIndented = true,
        NewLine = "\n",
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow,
    };

    /// <summary>Marks the form of file.</summary>
    [JsonPropertyOrder(0)]
    public string Format { get; init; } = Form;

    /// <summary>Name of the block: the only thing told.</summary>
    [JsonPropertyOrder(1)]
    public required string Block { get; init; }

    /// <summary>When it was sealed, by the keeper's clock.</summary>
    [JsonPropertyOrder(2)]
    public required DateTimeOffset SealedAt { get; init; }

    /// <summary>SHA-256 of salt and text, hexadecimal.</summary>
    [JsonPropertyOrder(3)]
    public required string Commitment { get; init; }

    /// <summary>Salt of the key, base64.</summary>
    [JsonPropertyOrder(4)]
    public required string KeySalt { get; init; }

    /// <summary>Nonce, base64.</summary>
    [JsonPropertyOrder(5)]
    public required string Nonce { get; init; }

    /// <summary>Authentication tag, base64.</summary>
    [JsonPropertyOrder(6)]
    public required string Tag { get; init; }

    /// <summary>Encrypted salt and text, base64.</summary>
    [JsonPropertyOrder(7)]
    public required string Content { get; init; }

    /// <summary>Seals a drawing.</summary>
    /// <param name="toml">Text of the drawing; must be a drawing.</param>
    /// <param name="fileName">Name for messages.</param>
    /// <param name="passphrase">Passphrase; at least 12 characters.</param>
    /// <param name="now">The keeper's clock.</param>
    /// <exception cref="ProcedureException">The drawing is at fault, or the passphrase too short.</exception>
    public static SealedDrawing Seal(string toml, string fileName, string passphrase, DateTimeOffset now)
    {
        ArgumentNullException.ThrowIfNull(toml);
        ArgumentNullException.ThrowIfNull(passphrase);
        DrawingFile drawing = DrawingFile.Parse(toml, fileName);
        if (passphrase.Length < 12)
            throw new ProcedureException(
                $"The passphrase has {passphrase.Length} characters.",
                "passphrase",
                "take at least 12; several words are easy to keep."
            );
        byte[] salt = RandomNumberGenerator.GetBytes(32);
        byte[] plain = [.. salt, .. Encoding.UTF8.GetBytes(toml)];
        byte[] keySalt = RandomNumberGenerator.GetBytes(16);
        byte[] nonce = RandomNumberGenerator.GetBytes(AesGcm.NonceByteSizes.MaxSize);
        var cipher = new byte[plain.Length];
        var tag = new byte[AesGcm.TagByteSizes.MaxSize];
        using (var aes = new AesGcm(KeyOf(passphrase, keySalt), tag.Length))
            aes.Encrypt(nonce, plain, cipher, tag);
        return new SealedDrawing
        {
            Block = drawing.Header.Name,
            SealedAt = now,
            Commitment = Convert.ToHexStringLower(SHA256.HashData(plain)),
            KeySalt = Convert.ToBase64String(keySalt),
            Nonce = Convert.ToBase64String(nonce),
            Tag = Convert.ToBase64String(tag),
            Content = Convert.ToBase64String(cipher),
        };
    }

    /// <summary>Opens it.</summary>
    /// <param name="passphrase">Passphrase.</param>
    /// <param name="fileName">Name for messages.</param>
    /// <returns>Text of the drawing.</returns>
    /// <exception cref="ProcedureException">Wrong passphrase, or the file was changed.</exception>
    public string Open(string passphrase, string fileName)
    {
        ArgumentNullException.ThrowIfNull(passphrase);
        byte[] plain;
        try
        {
            byte[] cipher = Convert.FromBase64String(Content);
            byte[] tag = Convert.FromBase64String(Tag);
            plain = new byte[cipher.Length];
            using var aes = new AesGcm(
                KeyOf(passphrase, Convert.FromBase64String(KeySalt)),
                AesGcm.TagByteSizes.MaxSize
            );
            aes.Decrypt(Convert.FromBase64String(Nonce), cipher, tag, plain);
        }
        catch (Exception error) when (error is CryptographicException or FormatException or ArgumentException)
        {
            throw new ProcedureException(
                "The seal does not open: the passphrase is wrong, or the file was changed.",
                fileName,
                "ask the keeper of the block for the passphrase and for the file as it was handed out."
            );
        }
        if (plain.Length < 32 || Convert.ToHexStringLower(SHA256.HashData(plain)) != Commitment)
            throw new ProcedureException(
                "The drawing inside is not the one that was committed to.",
                fileName,
                "ask the keeper of the block for the file as it was handed out."
            );
        return Encoding.UTF8.GetString(plain.AsSpan(32));
    }

    /// <summary>As a file, UTF-8 JSON with line feeds.</summary>
    public string Write() => JsonSerializer.Serialize(this, Json) + "\n";

    /// <summary>Reads a file; null when it is none of these, so that it may be an open drawing.</summary>
    /// <param name="text">Text of the file.</param>
    /// <param name="fileName">Name for messages.</param>
    /// <exception cref="ProcedureException">It is one of these, damaged.</exception>
    public static SealedDrawing? Read(string text, string fileName)
    {
        ArgumentNullException.ThrowIfNull(text);
        if (!text.TrimStart().StartsWith('{'))
            return null;
        try
        {
            SealedDrawing? found = JsonSerializer.Deserialize<SealedDrawing>(text, Json);
            if (found?.Format == Form)
                return found;
        }
        catch (JsonException error)
        {
            throw new ProcedureException(
                $"The sealed drawing cannot be read: {error.Message}",
                fileName,
                "ask the keeper of the block for the file as it was handed out."
            );
        }
        throw new ProcedureException(
            "The file is not a sealed drawing of this form.",
            fileName,
            "give a drawing (TOML), or a file that 'ett validate --seal' wrote."
        );
    }

    private static byte[] KeyOf(string passphrase, byte[] salt) =>
        Rfc2898DeriveBytes.Pbkdf2(passphrase, salt, Rounds, HashAlgorithmName.SHA256, 32);
}
