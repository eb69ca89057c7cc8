namespace Mixscore.Score.Tests;

// What parts play, in played order. Derived. The quarter has four divisions.
public sealed class PerformanceTests
{
    private static string Note(char step, int duration, string more = "", string behind = "") =>
        $"<note{more}><pitch><step>{step}</step><octave>4</octave></pitch><duration>{duration}</duration>{behind}</note>";

    private static string Type(string content) => $"<direction><direction-type>{content}</direction-type></direction>";

    private static PerformedPart Play(params string[] bars)
    {
        var score = Draw.Read(Draw.Partwise(bars));
        return Performance.Of(score, TimelineBuilder.Build(score).Timeline).Parts[0];
    }

    //  c~~~ | ~~~c | c     a tie over the barline is one note; a note of the same pitch without a tie is another
    [Fact]
    public void Tied_notes_are_one()
    {
        var notes = Play(Note('C', 16, behind: "<tie type=\"start\"/>"), Note('C', 8, behind: "<tie type=\"stop\"/>") + Note('C', 8)).Notes;
        Assert.Equal([("0", "6"), ("6", "2")], notes.Select(note => (note.Start.ToString(), note.Length.ToString())));
    }

    [Fact]
    public void Grace_notes_are_left_out_and_chords_begin_together()
    {
        var notes = Play("<note><grace/><pitch><step>D</step><octave>4</octave></pitch></note>" + Note('C', 16) + "<note><chord/><pitch><step>E</step><octave>4</octave></pitch><duration>16</duration></note>").Notes;
        Assert.Equal([(60, "0"), (64, "0")], notes.Select(note => (note.Pitch!.Value, note.Start.ToString())));
    }

    //  |: c (1st time only) d :|
    [Fact]
    public void Time_only_says_on_which_pass_a_note_is_played()
    {
        var notes = Play(Note('C', 8, " time-only=\"1\"") + Note('D', 8) + Draw.Right("<repeat direction=\"backward\"/>")).Notes;
        Assert.Equal([(60, "0"), (62, "2"), (62, "6")], notes.Select(note => (note.Pitch!.Value, note.Start.ToString())));
    }

    [Fact]
    public void Dynamics_stand_on_every_pass()
    {
        var marks = Play(Type("<dynamics><p/></dynamics>") + Draw.Whole, Type("<dynamics><f/></dynamics>") + Draw.Bar(":|")).Dynamics;
        Assert.Equal([("p", "0", 1), ("f", "4", 1), ("p", "8", 2), ("f", "12", 2)], marks.Select(mark => (mark.Text, mark.At.ToString(), mark.Pass)));
    }

    //  |: 1 | [1 2 < :| [2 3 > |       the hairpin that begins in the first ending and stops in the second is cut by the jump
    [Fact]
    public void A_hairpin_that_a_jump_cuts_is_cut_and_says_so()
    {
        var hairpins = Play(
            Draw.Whole,
            Draw.Left("<ending number=\"1\" type=\"start\"/>") + Type("<wedge type=\"crescendo\"/>") + Draw.Whole + Draw.Right("<ending number=\"1\" type=\"stop\"/><repeat direction=\"backward\"/>"),
            Draw.Left("<ending number=\"2\" type=\"start\"/>") + Note('C', 8) + Type("<wedge type=\"stop\"/>") + Note('C', 8) + Draw.Right("<ending number=\"2\" type=\"stop\"/>")).Hairpins;
        Assert.Equal([("4", "8", true), ("12", "14", true)], hairpins.Select(hairpin => (hairpin.From.ToString(), hairpin.To.ToString(), hairpin.IsCut)));
    }

    [Fact]
    public void Pitches_sound_as_they_are_transposed()
    {
        var transpose = "<attributes><transpose><diatonic>-4</diatonic><chromatic>-7</chromatic></transpose></attributes>";
        Assert.Equal([53], Play(transpose + Note('C', 16)).Notes.Select(note => note.Pitch!.Value));
    }

    [Fact]
    public void A_timeline_of_another_score_is_refused()
    {
        var (one, two) = (Draw.Read(Draw.Partwise(Draw.Whole)), Draw.Read(Draw.Partwise(Draw.Whole, Draw.Whole)));
        Assert.Throws<ArgumentException>(() => Performance.Of(one, TimelineBuilder.Build(two).Timeline));
    }
}
