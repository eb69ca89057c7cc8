namespace Mixscore.Audio;

/// <summary>
/// A two-pole resonance with zeros at 0 Hz and half the sample rate: y = (1 − r²)/2 (x − x₂) + 2r cos θ y₁ − r² y₂. Its
/// gain at the resonance is 1, and its pitch can move while it sounds. Derived.
/// </summary>
internal struct Resonator
{
    private float _in, _first, _second, _x1, _x2, _y1, _y2;

    internal void Tune(double hertz, double bandwidth, double rate)
    {
        var radius = Math.Exp(-Math.PI * bandwidth / rate);
        _in = (float)((1 - radius * radius) / 2);
        _first = (float)(2 * radius * Math.Cos(2 * Math.PI * hertz / rate));
        _second = (float)(-radius * radius);
    }

    internal float Next(float x)
    {
        var y = _in * (x - _x2) + _first * _y1 + _second * _y2;
        (_x2, _x1, _y2, _y1) = (_x1, x, _y1, y);
        return y;
    }
}
