namespace Mixscore.Loudness;

/// <summary>Measures as many strands of one sample rate at once as have channels for the lanes of a bank.</summary>
internal sealed class Crew : IDisposable
{
    private readonly Seat[] _seats;
    private readonly HopGrid _grid;
    private readonly LaneBank _bank;

    public Crew(IReadOnlyList<Strand> strands, Measure measures, LaneWork work)
    {
        _grid = new(strands[0].Format.SampleRate);
        _bank = new(_grid.SampleRate, strands.Sum(strand => strand.Format.Channels), measures, work);
        _seats = new Seat[strands.Count];
        try
        {
            for (int i = 0, lane = 0; i < _seats.Length; lane += strands[i++].Format.Channels)
                _seats[i] = new Seat(strands[i], strands[i].Open(), lane);
        }
        catch
        {
            Dispose();
            throw;
        }
    }

    /// <summary>Hears all strands to their ends.</summary>
    /// <param name="told">Told how many frames more are done, all strands together.</param>
    /// <param name="cancellation">Stops the work.</param>
    public void Run(Action<long>? told, CancellationToken cancellation)
    {
        // All begin on whole seconds, so that their hops have the same lengths side by side.
        var hops = _seats.Max(seat => seat.Strand.Sums.Length);
        for (var hop = -Strand.WarmUpHops; hop < hops; hop++)
        {
            cancellation.ThrowIfCancellationRequested();
            HearHop(hop);
            if (hop >= 0) told?.Invoke(_seats.Sum(seat => seat.FramesOfHop(hop, _grid)));
        }
    }

    public void Dispose()
    {
        foreach (var seat in _seats) seat?.Reader.Dispose();
    }

    private void HearHop(int hop)
    {
        // Hop lengths repeat every second.
        var second = HopGrid.HopsPerSecond;
        var left = (int)_grid.Frames(hop + second, hop + second + 1);
        var warmingUp = hop < 0;
        while (left > 0)
        {
            var count = Math.Min(left, LaneBank.MostFrames);
            foreach (var seat in _seats)
                if (seat.FramesLeft(warmingUp) is > 0 and var some) count = (int)Math.Min(count, some);
            foreach (var seat in _seats) Take(seat, count, warmingUp);
            _bank.Hear(count);
            left -= count;
            // A strand that has just ended keeps what it has now: what follows in its lanes is silence, and filters dying away.
            foreach (var seat in _seats)
                if (!warmingUp && seat.Heard > 0) Keep(seat, hop);
        }
        _bank.EndHop();
        foreach (var seat in _seats) Share(seat);
    }

    private void Take(Seat seat, int count, bool warmingUp)
    {
        if (seat.FramesLeft(warmingUp) == 0)
        {
            for (var lane = seat.Lane; lane < seat.EndLane; lane++) _bank[lane].TakeSilence(count);
            seat.Heard = 0;
            return;
        }
        var samples = seat.Reader.Read(count);
        for (var c = 0; c < seat.Channels; c++) _bank[seat.Lane + c].Take(samples[c..], seat.Channels, count);
        seat.Heard = count;
        if (!warmingUp) seat.Frame += count;
    }

    private void Keep(Seat seat, int hop)
    {
        var sum = 0.0;
        for (var c = 0; c < seat.Channels; c++)
        {
            sum += seat.Weights[c] * _bank.Sum(seat.Lane + c);
            seat.Strand.Invalid += _bank[seat.Lane + c].Faulty;
            seat.Strand.AddPeaks(_bank.SamplePeak(seat.Lane + c), _bank.TruePeak(seat.Lane + c));
        }
        seat.Strand.Sums[hop] = sum;
    }

    // What one strand of a sound has found spares the others their search.
    private void Share(Seat seat)
    {
        var known = seat.Strand.Known;
        known.Raise(seat.Strand.TruePeak);
        for (var lane = seat.Lane; lane < seat.EndLane; lane++) _bank.Know(lane, known.Peak);
    }

    /// <summary>A strand at its lanes.</summary>
    private sealed class Seat(Strand strand, ISoundReader reader, int lane)
    {
        public Strand Strand => strand;

        public ISoundReader Reader => reader;

        public int Channels { get; } = strand.Format.Channels;

        public double[] Weights { get; } = [.. Enumerable.Range(0, strand.Format.Channels).Select(strand.Format.Weight)];

        /// <summary>Its first lane and the one after its last.</summary>
        public int Lane => lane;

        /// <inheritdoc cref="Lane"/>
        public int EndLane => lane + Channels;

        /// <summary>The next frame of the strand itself.</summary>
        public long Frame { get; set; } = strand.Start;

        /// <summary>How many frames of the last block were its own.</summary>
        public int Heard { get; set; }

        public long FramesLeft(bool warmingUp) => warmingUp ? (strand.HasPast ? int.MaxValue : 0) : strand.End - Frame;

        public long FramesOfHop(int hop, HopGrid grid) =>
            Math.Max(0, Math.Min(strand.End, strand.Start + grid.Frames(0, hop + 1)) - (strand.Start + grid.Frames(0, hop)));
    }
}
