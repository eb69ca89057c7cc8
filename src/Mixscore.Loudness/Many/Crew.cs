namespace Mixscore.Loudness;

/// <summary>Measures as many strands of one sample rate at once as have channels for the lanes of a bank.</summary>
internal sealed class Crew : IDisposable
{
    private readonly List<Seat> _seats = [];
    private readonly HopGrid _grid;
    private readonly LaneBank _bank;

    public Crew(IEnumerable<Strand> strands, Measure measures, LaneWork work)
    {
        var lane = 0;
        try
        {
            foreach (var strand in strands)
            {
                _seats.Add(new Seat(strand, strand.Open(), lane));
                lane += strand.Format.Channels;
            }
        }
        catch
        {
            Dispose();
            throw;
        }
        var rate = _seats[0].Strand.Format.SampleRate;
        _grid = new(rate);
        _bank = new(rate, lane, measures, work);
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
        foreach (var seat in _seats)
        {
            for (var c = 0; c < seat.Strand.Format.Channels; c++)
                seat.Strand.TruePeak = Math.Max(seat.Strand.TruePeak, _bank.TruePeak(seat.Lane + c));
        }
    }

    public void Dispose()
    {
        foreach (var seat in _seats) seat.Reader.Dispose();
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
            foreach (var seat in _seats) Load(seat, count, warmingUp);
            _bank.Hear(count);
            left -= count;
            // A strand that has just ended keeps the sum that it has now: what follows in its lanes is silence, and a filter dying away.
            foreach (var seat in _seats)
                if (!warmingUp && seat.Heard > 0 && (left == 0 || seat.FramesLeft(false) == 0)) Keep(seat, hop);
        }
        _bank.EndHop();
    }

    private void Load(Seat seat, int count, bool warmingUp)
    {
        var (strand, channels) = (seat.Strand, seat.Strand.Format.Channels);
        if (seat.FramesLeft(warmingUp) == 0)
        {
            for (var c = 0; c < channels; c++) _bank[seat.Lane + c].LoadSilence(count);
            seat.Heard = 0;
            return;
        }
        var samples = seat.Reader.Read(count);
        for (var c = 0; c < channels; c++)
        {
            var lane = _bank[seat.Lane + c];
            var invalid = lane.Load(samples[c..], channels, count);
            if (!warmingUp) strand.Invalid += invalid;
            strand.SamplePeak = Math.Max(strand.SamplePeak, lane.Peak);
        }
        seat.Heard = count;
        if (!warmingUp) seat.Frame += count;
    }

    private void Keep(Seat seat, int hop)
    {
        var sum = 0.0;
        for (var c = 0; c < seat.Strand.Format.Channels; c++) sum += seat.Strand.Format.Weight(c) * _bank.Sum(seat.Lane + c);
        seat.Strand.Sums[hop] = sum;
    }

    /// <summary>A strand at its lanes.</summary>
    private sealed class Seat(Strand strand, ISoundReader reader, int lane)
    {
        public Strand Strand => strand;

        public ISoundReader Reader => reader;

        public int Lane => lane;

        /// <summary>The next frame of the strand itself.</summary>
        public long Frame { get; set; } = strand.Start;

        /// <summary>How many frames of the last block were its own.</summary>
        public int Heard { get; set; }

        public long FramesLeft(bool warmingUp) => warmingUp ? (strand.HasPast ? int.MaxValue : 0) : strand.End - Frame;

        public long FramesOfHop(int hop, HopGrid grid) =>
            Math.Max(0, Math.Min(strand.End, strand.Start + grid.Frames(0, hop + 1)) - (strand.Start + grid.Frames(0, hop)));
    }
}
