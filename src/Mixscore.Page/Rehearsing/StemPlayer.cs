using Mixscore.Audio;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Page;

/// <summary>
/// The stems through their faders, block by block: begins, ends, loops and jumps without a click. Knows no clock; asked for a
/// block, it goes on by that much. One thread at a time.
/// </summary>
internal sealed class StemPlayer : IDisposable
{
    /// <summary>How long sound takes to come and go where it is cut: 5 ms. Common practice, no source.</summary>
    private const double FadeSeconds = 0.005;

    private readonly Timeline _timeline;
    private readonly StemVoice[] _voices;
    private readonly LoudnessMeter _meter;
    private readonly float[] _envelope;
    private readonly int _fade;
    private long _since;
    private long? _jumpsTo;
    private int _leaving = -1;
    private bool _pauses;

    internal StemPlayer(PageProject project, int blockFrames)
    {
        _timeline = project.Timeline;
        Rate = project.Stems[0].Stem.File.Format.SampleRate;
        var sites = project.Plan.Sites.Select(site => site.Name).ToList();
        _voices = [.. project.Stems.Select((stem, i) => new StemVoice(
            new MixTrack(stem.Stem.File, project.Rides[i], stem.Stem.Delay, Pan.OfSite(sites.IndexOf(stem.Stem.Source.Site.Name), sites.Count)), blockFrames))];
        _meter = new LoudnessMeter(new SoundFormat(Rate, 2), Measure.Momentary | Measure.ShortTerm);
        _envelope = new float[blockFrames];
        _fade = (int)(FadeSeconds * Rate);
        Last = (long)Math.Ceiling((_timeline.Duration.Value + project.Stems.Max(stem => stem.Stem.Delay.Value)) * Rate);
    }

    internal int Rate { get; }

    internal IReadOnlyList<StemVoice> Voices => _voices;

    /// <summary>The frame that is played next, by the click.</summary>
    internal long Frame { get; private set; }

    /// <summary>The frame at which it stops of itself.</summary>
    internal long Last { get; }

    /// <summary>Whether it sounds.</summary>
    internal bool IsPlaying { get; private set; }

    /// <summary>What is played over and over; <c>null</c> for straight on.</summary>
    internal (long From, long To)? Loop { get; set; }

    /// <summary>How often it went elsewhere: what was shown of the way there is no longer so.</summary>
    internal uint Jumps { get; private set; }

    internal Seconds Position => new((double)Frame / Rate);

    /// <summary>Where it is in the score.</summary>
    internal double Quarters => Math.Min(_timeline.Tempo.QuartersAt(Position), _timeline.End.ToDouble());

    /// <summary>The first frame that is not before a place: whoever goes to a bar is in it.</summary>
    internal long FrameAt(Seconds place) => (long)Math.Ceiling(place.Value * Rate - 1e-3);

    internal Lufs? Momentary => _meter.Figures.Momentary;

    internal Lufs? ShortTerm => _meter.Figures.ShortTerm;

    internal void Play()
    {
        _pauses = false;
        if (IsPlaying) return;
        if (Frame >= Last) Frame = 0;
        (IsPlaying, _since, _leaving) = (true, 0, -1);
    }

    internal void Pause()
    {
        if (!IsPlaying || _leaving >= 0) return;
        (_leaving, _pauses) = (_fade, true);
    }

    /// <summary>Goes elsewhere, at once or as soon as what sounds has faded.</summary>
    internal void Jump(Seconds to)
    {
        var frame = Math.Clamp(FrameAt(to), 0, Last);
        if (IsPlaying)
        {
            _jumpsTo = frame;
            if (_leaving < 0) _leaving = _fade;
            return;
        }
        Arrive(frame);
    }

    /// <summary>Renders the next block.</summary>
    /// <param name="mixed">Left and right, interleaved; as many frames as the player was made for.</param>
    /// <param name="gains">Where the faders are, in the order of the voices; <c>null</c> is off.</param>
    /// <returns>Whether there is sound in it.</returns>
    internal bool Render(Span<float> mixed, ReadOnlySpan<Decibels?> gains)
    {
        mixed.Clear();
        var frames = mixed.Length / 2;
        var sounded = false;
        for (var done = 0; done < frames;)
        {
            var count = frames - done;
            if (!IsPlaying)
            {
                foreach (var voice in _voices) voice.Rest(count);
                break;
            }
            count = (int)Math.Min(count, UntilSeam());
            if (count > 0)
            {
                Span(mixed.Slice(2 * done, 2 * count), gains);
                (sounded, done) = (true, done + count);
            }
            if (UntilSeam() == 0) Turn();
        }
        _meter.Push(mixed);
        return sounded;
    }

    public void Dispose()
    {
        foreach (var voice in _voices) voice.Dispose();
    }

    private void Span(Span<float> mixed, ReadOnlySpan<Decibels?> gains)
    {
        var envelope = _envelope.AsSpan(0, mixed.Length / 2);
        for (var i = 0; i < envelope.Length; i++)
        {
            var left = UntilSeam() - i;
            envelope[i] = Math.Min(1f, Math.Min((float)(_since + i) / _fade, (float)left / _fade));
        }
        var anySolo = Array.Exists(_voices, voice => voice.IsSolo);
        for (var i = 0; i < _voices.Length; i++)
            _voices[i].AddTo(mixed, Frame, envelope, _voices[i].IsMuted || (anySolo && !_voices[i].IsSolo) ? null : gains[i]);
        Frame += envelope.Length;
        _since += envelope.Length;
        if (_leaving > 0) _leaving -= envelope.Length;
    }

    /// <summary>Frames until sound is cut: where it was told to leave, where the loop closes, or at the end.</summary>
    private long UntilSeam()
    {
        var until = Last - Frame;
        if (Loop is { } loop && Frame <= loop.To) until = loop.To - Frame;
        return Math.Max(0, _leaving >= 0 ? Math.Min(until, _leaving) : until);
    }

    private void Turn()
    {
        if (_leaving >= 0)
        {
            _leaving = -1;
            if (_jumpsTo is { } to) Arrive(to);
            if (_pauses) (IsPlaying, _pauses) = (false, false);
        }
        else if (Loop is { } loop && Frame == loop.To) Arrive(loop.From);
        else IsPlaying = false;
    }

    private void Arrive(long frame)
    {
        (Frame, _since, _jumpsTo) = (frame, 0, null);
        Jumps++;
    }
}
