namespace EchoToThickness.Statistics.Regions;

/// <summary>Sets that merge: union-find with path halving; the smaller number stays the root, so the outcome has no order of unions.</summary>
internal sealed class DisjointSets
{
    private readonly int[] _parent;

    public DisjointSets(int count)
    {
        _parent = new int[count];
        for (int k = 0; k < count; k++)
            _parent[k] = k;
    }

    public int Root(int item)
    {
        while (_parent[item] != item)
        {
            _parent[item] = _parent[_parent[item]];
            item = _parent[item];
        }
        return item;
    }

    public void Join(int a, int b)
    {
        a = Root(a);
        b = Root(b);
        if (a < b)
            _parent[b] = a;
        else
            _parent[a] = b;
    }
}
