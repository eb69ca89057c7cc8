namespace Mixscore.Loudness;

/// <summary>
/// The sum of the last so many values, for three additions a value: what the run in hand has come to, and what the run before came
/// to from there to its end. Nothing is ever subtracted, so that it does not drift and silence is 0.
/// </summary>
/// <param name="length">How many: 1 or more.</param>
internal sealed class SlidingSum(int length)
{
    // Before _at the values of the run in hand; from there on, what the run before came to from each value to its end.
    private readonly double[] _values = new double[length];
    private double _run;
    private int _at;

    /// <summary>Takes one more.</summary>
    /// <returns>The sum with it; of all that there were, while they are fewer.</returns>
    public double Add(double value)
    {
        _values[_at++] = value;
        _run += value;
        if (_at < _values.Length) return _run + _values[_at];
        for (var i = _values.Length - 2; i >= 0; i--) _values[i] += _values[i + 1];
        (_run, _at) = (0, 0);
        return _values[0];
    }
}
