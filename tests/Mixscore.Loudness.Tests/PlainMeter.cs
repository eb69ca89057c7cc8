namespace Mixscore.Loudness.Tests;

/// <summary>
/// The standards written out as they read, for 48 kHz, in double, with nothing clever: the check on the meter, which shares no
/// code with this.
/// </summary>
internal sealed class PlainMeter
{
    private static readonly double[] Weights5 = [1, 1, 1, 1.41, 1.41], Weights6 = [1, 1, 1, 0, 1.41, 1.41];
    private readonly float[][] _plain;
    private readonly double[] _squares;
    private readonly double[] _momentary, _shortTerm;

    public PlainMeter(float[] interleaved, int channels)
    {
        double[] g = channels switch { 4 => [1, 1, 1.41, 1.41], 5 => Weights5, 6 => Weights6, _ => Weights5[..channels] };
        _plain = [.. Enumerable.Range(0, channels).Select(c => interleaved.Where((_, i) => i % channels == c).ToArray())];
        // ITU-R BS.1770-5, Annex 1, Tables 1 and 2.
        double[][] weighted = [.. _plain.Select(x => Filtered(
            Filtered([.. x], [1.53512485958697, -2.69169618940638, 1.19839281085285], [-1.69065929318241, 0.73248077421585]),
            [1.0, -2.0, 1.0], [-1.99004745483398, 0.99007225036621]))];
        _squares = [.. _plain[0].Select((_, i) => g.Select((gain, c) => gain * weighted[c][i] * weighted[c][i]).Sum())];
        _momentary = Windows(0.4);
        _shortTerm = Windows(3);
    }

    // ITU-R BS.1770-5, Annex 2, as printed.
    public static double[] Phase0 { get; } =
        [0.0017089843750, 0.0109863281250, -0.0196533203125, 0.0332031250000, -0.0594482421875, 0.1373291015625,
        0.9721679687500, -0.1022949218750, 0.0476074218750, -0.0266113281250, 0.0148925781250, -0.0083007812500];

    public static double[] Phase1 { get; } =
        [-0.0291748046875, 0.0292968750000, -0.0517578125000, 0.0891113281250, -0.1665039062500, 0.4650878906250,
        0.7797851562500, -0.2003173828125, 0.1015625000000, -0.0582275390625, 0.0330810546875, -0.0189208984375];

    public static double[] Phase2 { get; } =
        [-0.0189208984375, 0.0330810546875, -0.0582275390625, 0.1015625000000, -0.2003173828125, 0.7797851562500,
        0.4650878906250, -0.1665039062500, 0.0891113281250, -0.0517578125000, 0.0292968750000, -0.0291748046875];

    public static double[] Phase3 { get; } =
        [-0.0083007812500, 0.0148925781250, -0.0266113281250, 0.0476074218750, -0.1022949218750, 0.9721679687500,
        0.1373291015625, -0.0594482421875, 0.0332031250000, -0.0196533203125, 0.0109863281250, 0.0017089843750];

    public double? Momentary => _momentary is [.., var z] ? Loudness(z) : null;

    public double? ShortTerm => _shortTerm is [.., var z] ? Loudness(z) : null;

    public double? MaxMomentary => _momentary is [] ? null : Loudness(_momentary.Max());

    public double? MaxShortTerm => _shortTerm is [] ? null : Loudness(_shortTerm.Max());

    // ITU-R BS.1770-5, Annex 1, eq. 3 to 7.
    public double? Integrated
    {
        get
        {
            var loud = EveryTenth(_momentary).Where(z => Loudness(z) > -70).ToArray();
            if (loud.Length == 0) return null;
            var threshold = Loudness(loud.Average()) - 10;
            return Loudness(loud.Where(z => Loudness(z) > threshold).Average());
        }
    }

    // EBU Tech 3342, 3.1 and 5.
    public double? Range
    {
        get
        {
            var loud = EveryTenth(_shortTerm).Where(z => Loudness(z) >= -70).ToArray();
            if (loud.Length == 0) return null;
            var threshold = Loudness(loud.Average()) - 20;
            var kept = loud.Select(Loudness).Where(l => l >= threshold).Order().ToArray();
            double At(double p) => kept[(int)Math.Floor((kept.Length - 1) * p / 100 + 1 + 0.5) - 1];
            return At(95) - At(10);
        }
    }

    public double SamplePeak => _plain.SelectMany(x => x).Max(Math.Abs);

    public double TruePeak => Math.Max(SamplePeak, _plain.Max(x => Interpolated([.. new float[11], .. x], 4)));

    public static double Interpolated(float[] x, int ratio)
    {
        var peak = 0.0;
        foreach (var taps in ratio == 4 ? [Phase0, Phase1, Phase2, Phase3] : new[] { Phase1, Phase2 })
        {
            for (var n = 11; n < x.Length; n++)
            {
                var y = 0.0;
                for (var k = 0; k < 12; k++) y += taps[k] * x[n - k];
                peak = Math.Max(peak, Math.Abs(y));
            }
        }
        return peak;
    }

    private static double Loudness(double z) => -0.691 + 10 * Math.Log10(z);

    private static IEnumerable<double> EveryTenth(double[] windows) => windows.Where((_, i) => i % 10 == 0);

    // Mean squares of windows every 10 ms, each summed afresh.
    private double[] Windows(double seconds)
    {
        var length = (int)Math.Round(seconds * 48_000);
        var windows = new List<double>();
        for (var start = 0; start + length <= _squares.Length; start += 480)
        {
            var sum = 0.0;
            for (var i = start; i < start + length; i++) sum += _squares[i];
            windows.Add(sum / length);
        }
        return [.. windows];
    }

    private static double[] Filtered(double[] x, double[] b, double[] a)
    {
        var y = new double[x.Length];
        for (var n = 0; n < x.Length; n++)
        {
            y[n] = b[0] * x[n];
            if (n > 0) y[n] += b[1] * x[n - 1] - a[0] * y[n - 1];
            if (n > 1) y[n] += b[2] * x[n - 2] - a[1] * y[n - 2];
        }
        return y;
    }
}
