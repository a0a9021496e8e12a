namespace ProofDesk.Adapters.Tests.Database;

/// <summary>What several killed houses went through.</summary>
internal sealed class KillToll
{
    private readonly SortedDictionary<string, int> _deaths = new(StringComparer.Ordinal);
    private int _houses;
    private int _acknowledged;
    private int _decisions;
    private int _mails;
    private int _restored;

    public int Kills { get; set; }

    public void Bury(KilledHouse house)
    {
        _houses++;
        _acknowledged += house.Acknowledged;
        _decisions += house.Decisions;
        _mails += house.Mails;
        _restored += house.Restored;
        foreach (var (point, times) in house.Deaths)
        {
            _deaths[point] = _deaths.GetValueOrDefault(point) + times;
        }
    }

    public override string ToString() =>
        $"""
            {Kills} kills of {_houses} houses at {_deaths.Count} places; {_acknowledged} decisions acknowledged, {_decisions} written, 0 lost, 0 doubled, 0 forged;
            {_mails} mails, each a row and a file, 0 lost; {_restored} backups restored whole; every store looked through after every kill
            {string.Join('\n', _deaths.Select(death => $"{death.Value, 5} {death.Key}"))}
            """;
}
