using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Collects faults, so that a person sees all of them at once.</summary>
internal sealed class FaultList
{
    private readonly List<Fault> _faults = [];

    internal bool IsEmpty => _faults.Count == 0;

    internal void Add(string code, Place place, string found, string remedy) => _faults.Add(new Fault(code, place, found, remedy));

    /// <summary>Ends the reading where something is wrong.</summary>
    /// <exception cref="InputException">There is a fault; all are given, in the order of their places.</exception>
    internal void ThrowIfAny()
    {
        if (_faults.Count > 0)
            throw new InputException([.. _faults.OrderBy(fault => fault.Place.Line).ThenBy(fault => fault.Place.Column)]);
    }
}
