namespace EchoToThickness.Statistics.Extremes;

/// <summary>Samples of block losses.</summary>
internal static class BlockLosses
{
    /// <summary>Largest loss of every block, exposure by measured area.</summary>
    public static BlockSample All(ThicknessMap map, BlockPartition partition, double reference)
    {
        double mean = partition.MeanAreaSquareMetres;
        return new BlockSample(
            partition.Blocks.Select(b => reference - map.ThicknessMetres[b.DeepestCells[0]]).ToArray(),
            default,
            partition.Blocks.Select(b => b.MeasuredAreaSquareMetres / mean).ToArray()
        );
    }

    /// <summary>
    /// Largest losses weighed by what they are: the k-th thinnest cell is the true minimum with the probability that it is right and all
    /// thinner ones are wrong. Weights of a block add up to 1 but for the chance that all eight kept cells are wrong.
    /// </summary>
    public static BlockSample Weighed(ThicknessMap map, BlockPartition partition, double reference)
    {
        double mean = partition.MeanAreaSquareMetres;
        var values = new List<double>();
        var weights = new List<double>();
        var exposures = new List<double>();
        foreach (LossBlock block in partition.Blocks)
        {
            double allWrong = 1;
            foreach (int cell in block.DeepestCells)
            {
                double wrong = map.WrongEchoProbability[cell];
                double weight = allWrong * (1 - wrong);
                if (weight > 1e-6)
                {
                    values.Add(reference - map.ThicknessMetres[cell]);
                    weights.Add(weight);
                    exposures.Add(block.MeasuredAreaSquareMetres / mean);
                }
                allWrong *= wrong;
                if (allWrong < 1e-6)
                    break;
            }
        }
        return new BlockSample(values.ToArray(), weights.ToArray(), exposures.ToArray());
    }
}
