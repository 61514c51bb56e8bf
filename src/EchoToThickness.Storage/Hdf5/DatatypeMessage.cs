namespace EchoToThickness.Storage.Hdf5;

/// <summary>Reads the datatype message (section IV.A.2.d).</summary>
internal static class DatatypeMessage
{
    public static Hdf5Type Read(ReadOnlySpan<byte> body, Hdf5Source source, string objectPath)
    {
        Hdf5Cursor cursor = new(body, source, objectPath);
        return Read(ref cursor, 0);
    }

    private static Hdf5Type Read(ref Hdf5Cursor cursor, int depth)
    {
        Hdf5Source source = cursor.Source;
        if (depth > 8)
            throw source.Damaged(cursor.ObjectPath, "A datatype is nested more than 8 deep.");
        byte head = cursor.U8();
        int version = head >> 4;
        int kind = head & 0x0f;
        uint bits = (uint)cursor.Sized(3);
        uint size = cursor.U32();
        if (size is 0 or > 1 << 26)
            throw source.Damaged(
                cursor.ObjectPath,
                $"A datatype of {size} bytes is declared (possible: 1 to {1 << 26})."
            );
        Hdf5TypeClass typeClass = kind <= 10 ? (Hdf5TypeClass)kind : Hdf5TypeClass.Other;
        bool bigEndian = (bits & 1) != 0;
        switch (typeClass)
        {
            case Hdf5TypeClass.Integer:
            {
                int offset = cursor.U16();
                int precision = cursor.U16();
                bool whole = offset == 0 && precision == size * 8 && size is 1 or 2 or 4 or 8;
                return new Hdf5Type(typeClass, (int)size, (bits & 8) != 0, bigEndian && size > 1, whole);
            }
            case Hdf5TypeClass.Float:
            {
                ulong first = cursor.U64();
                uint bias = cursor.U32();
                bool vax = (bits & 0x40) != 0;
                // bit offset u16, precision u16, exponent at u8, exponent bits u8, mantissa at u8, mantissa bits u8
                bool ieee =
                    !vax
                    && (bits >> 4 & 3) == 2
                    && (
                        size == 4 && first == 0x17_00_08_17_0020_0000 && bias == 127 && (bits >> 8 & 0xff) == 31
                        || size == 8 && first == 0x34_00_0b_34_0040_0000 && bias == 1023 && (bits >> 8 & 0xff) == 63
                    );
                return new Hdf5Type(typeClass, (int)size, true, bigEndian, ieee);
            }
            case Hdf5TypeClass.Enumeration:
            {
                int count = (int)(bits & 0xffff);
                Hdf5Type based = Read(ref cursor, depth + 1);
                return new Hdf5Type(typeClass, (int)size, based.IsSigned, based.IsBigEndian, based.IsStandard)
                {
                    Base = based,
                    Members = ReadMembers(ref cursor, version, count, based),
                };
            }
            case Hdf5TypeClass.VariableLength:
                return new Hdf5Type(typeClass, (int)size, false, false, true)
                {
                    IsVariableString = (bits & 0x0f) == 1,
                    Base = Read(ref cursor, depth + 1),
                };
            case Hdf5TypeClass.Array:
            {
                int rank = cursor.U8();
                if (version < 3)
                    cursor.Skip(3);
                cursor.Skip(4L * rank * (version < 3 ? 2 : 1));
                return new Hdf5Type(typeClass, (int)size, false, false, true) { Base = Read(ref cursor, depth + 1) };
            }
            default:
                return new Hdf5Type(typeClass, (int)size, false, false, typeClass == Hdf5TypeClass.String);
        }
    }

    private static (string, long)[] ReadMembers(ref Hdf5Cursor cursor, int version, int count, Hdf5Type based)
    {
        string[] names = new string[count];
        for (int i = 0; i < count; i++)
        {
            int from = cursor.Position;
            names[i] = cursor.ZeroTerminated();
            int length = cursor.Position - from;
            if (version < 3)
                cursor.Skip((8 - length % 8) % 8);
        }
        (string, long)[] members = new (string, long)[count];
        for (int i = 0; i < count; i++)
            members[i] = (names[i], Hdf5Numbers.ToInt64(cursor.Take(based.SizeBytes), based));
        return members;
    }
}
