namespace FleetLight.Service.Tests.Works.Laws;

/// <summary>Chance from a seed: the same seed gives the same history or arrival again.</summary>
internal sealed class Dice(int seed)
{
    private readonly Random random = new(seed);

    public int Below(int most) => random.Next(most);

    public bool Once(int inSo) => random.Next(inSo) == 0;

    public T Of<T>(IReadOnlyList<T> list) => list[random.Next(list.Count)];

    public T Word<T>()
        where T : struct, Enum => Of(Enum.GetValues<T>());

    public string Id(string prefix, int most = 3) => $"{prefix}{1 + random.Next(most)}";

    public T[] Shuffled<T>(IEnumerable<T> list)
    {
        T[] all = [.. list];
        random.Shuffle(all);
        return all;
    }
}
