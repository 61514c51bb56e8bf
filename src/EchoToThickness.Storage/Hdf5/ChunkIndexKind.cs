namespace EchoToThickness.Storage.Hdf5;

/// <summary>How chunks are found; numbers of layout version 4, 0 for the B-tree of earlier versions.</summary>
internal enum ChunkIndexKind
{
    BTree1 = 0,
    Single = 1,
    Implicit = 2,
    FixedArray = 3,
    ExtensibleArray = 4,
    BTree2 = 5,
}
