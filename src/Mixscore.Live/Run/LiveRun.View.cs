using Mixscore.Score;

namespace Mixscore.Live;

public sealed partial class LiveRun
{
    private void Publish()
    {
        var view = View.Begin();
        try
        {
            Fill(view);
        }
        finally
        {
            // Whatever went wrong: whoever looks must not look for ever.
            View.End();
        }
    }

    private void Fill(RunPicture view)
    {
        view.Now = _now;
        view.Phase = _phase;
        view.IsArmed = _isArmed;
        view.At = new Seconds(Score);
        view.CountIn = new Seconds(CountsIn ? _startAt - Score : 0);
        view.Bar = _head.BarAt(Math.Max(CountsIn ? _startAt : 0, Score));
        view.Stay = _head.Stay;
        view.JumpsTo = _head.JumpsTo;
        view.Clock = _reading;
        (view.Spare, view.StartAt, view.Apart, view.DeskSilent) = (SpareNow, new Seconds(_startAt), _head.Apart, DeskSilent);
        view.HasTwins = View.WantsTwins;
        for (var i = 0; i < _faders.Length; i++)
        {
            var fader = _faders[i];
            view.Sources[i] = new SourceView(fader.Holder, fader.Gain, fader.Planned, fader.Offset, fader.Gone, fader.HandDesk, _links[i].Meter);
            if (view.HasTwins) view.Twins[i] = fader.Twin(_now);
        }
        for (var d = 0; d < _desks.Length; d++)
            for (var i = 0; i < _faders.Length; i++)
                view.Desks[(d * _faders.Length) + i] = new DeskView(_desks[d].GainOf(i), _desks[d].HasReported(i));
    }
}
