namespace FleetLight.Electrics;

/// <summary>A sum of numbers given by their logarithms.</summary>
internal struct LogTotal
{
    private double most = double.NegativeInfinity;
    private double sum;

    public LogTotal()
    {
    }

    /// <summary>Logarithm of the sum.</summary>
    public readonly double Log => sum > 0 ? most + Math.Log(sum) : double.NegativeInfinity;

    /// <summary>Adds a number.</summary>
    public void Add(double log)
    {
        if (!(log > double.NegativeInfinity)) return;
        if (log > most)
        {
            sum = (sum * Math.Exp(most - log)) + 1;
            most = log;
        }
        else
        {
            sum += Math.Exp(log - most);
        }
    }
}
