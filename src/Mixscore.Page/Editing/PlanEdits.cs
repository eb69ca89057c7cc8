using System.Globalization;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Page;

/// <summary>
/// A plan while it is edited on the page. Each edit is made in the plan's own text, in the words a person would have typed, is
/// checked as the whole plan is, and goes to the file at once; undo and redo go through the texts. What somebody else writes into
/// the file meanwhile is taken up, unless the page holds an edit that the file has not: then both are kept until a person chooses.
/// Any thread.
/// </summary>
/// <param name="file">The plan's file.</param>
/// <param name="text">Its text as it was opened.</param>
/// <param name="path">Its name, for faults.</param>
/// <param name="timeline">Where positions lie.</param>
/// <param name="check">Throws <see cref="InputException"/> for a text that is no plan for this score.</param>
/// <param name="time">The clock of day, for the names of files.</param>
internal sealed class PlanEdits(IPlanFile file, string text, string path, Timeline timeline, Action<string> check, TimeProvider time)
{
    private const int MostSteps = 500;
    private readonly Lock _gate = new();
    private readonly List<string> _undo = [];
    private readonly Stack<string> _redo = [];
    private string _onDisk = text;
    private string? _theirs;
    private string? _trouble;
    private string? _notice;

    /// <summary>The text has changed: what it is now.</summary>
    internal event Action<string>? Changed;

    /// <summary>The plan's text as the page has it.</summary>
    internal string Text { get; private set; } = text;

    /// <summary>How it stands.</summary>
    /// <param name="CanUndo">Whether there is a step to take back.</param>
    /// <param name="CanRedo">Whether there is one to take again.</param>
    /// <param name="IsSaved">Whether the file has it.</param>
    /// <param name="Trouble">Why it could not be written; <c>null</c> where it could.</param>
    /// <param name="IsClash">Whether somebody else wrote into the file meanwhile.</param>
    /// <param name="Notice">What a person should know; <c>null</c> for nothing.</param>
    internal sealed record Standing(bool CanUndo, bool CanRedo, bool IsSaved, string? Trouble, bool IsClash, string? Notice);

    internal Standing Now
    {
        get
        {
            lock (_gate) return new Standing(_undo.Count > 0, _redo.Count > 0, Text == _onDisk && _trouble is null, _trouble, _theirs is not null, _notice);
        }
    }

    /// <summary>Does what a page orders.</summary>
    /// <returns>Why not, in words; <c>null</c> when it is done.</returns>
    internal string? Do(EditOrder order)
    {
        string before;
        lock (_gate)
        {
            before = Text;
            try
            {
                _notice = null;
                LookAtDisk();
                if (order is EditOrder.Settle settle) Settle(settle.How);
                else if (order is EditOrder.Undo or EditOrder.Redo) Step(order is EditOrder.Undo);
                else Take(Edited(order), isStep: true);
            }
            catch (InputException wrong)
            {
                return Sentence(wrong);
            }
            catch (Clash clash)
            {
                return clash.Message;
            }
        }
        if (Text != before) Changed?.Invoke(Text);
        return null;
    }

    /// <summary>Looks whether somebody else wrote into the file.</summary>
    /// <returns>Whether how it stands may be another.</returns>
    internal bool Look()
    {
        string before;
        bool isNew;
        lock (_gate)
        {
            var (text, theirs, trouble, notice) = (Text, _theirs, _trouble, _notice);
            before = text;
            LookAtDisk();
            isNew = Text != text || _theirs != theirs || _trouble != trouble || _notice != notice;
        }
        if (Text != before) Changed?.Invoke(Text);
        return isNew;
    }

    private void LookAtDisk()
    {
        string? found;
        try
        {
            found = file.Read();
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            _trouble = $"the plan cannot be read: {problem.Message}";
            return;
        }
        if (found is null)
        {
            _trouble = "the plan's file is gone";
            return;
        }
        if (found == _onDisk)
        {
            if (Text == _onDisk) _trouble = null;
            return;
        }
        if (found == Text)
        {
            (_onDisk, _theirs, _trouble) = (found, null, null);
            return;
        }
        try
        {
            check(found);
        }
        catch (InputException wrong)
        {
            // Somebody is in the middle of a line; what the page has stands until the file is a plan again.
            _notice = $"The plan on disk cannot be used just now: {Sentence(wrong)}";
            return;
        }
        if (Text != _onDisk)
        {
            _theirs = found;
            return;
        }
        Remember(Text);
        (_onDisk, Text, _trouble, _notice) = (found, found, null, "The plan was changed on disk and is shown as it is there; undo has what was before.");
    }

    private string Edited(EditOrder order)
    {
        var editor = new PlanEditor(Text, path, timeline);
        switch (order)
        {
            case EditOrder.Mark { Key: null } mark:
                if (editor.MarkAt(mark.Source, mark.Becomes) is { } other) throw new Clash($"{mark.Source} has a mark at {mark.Becomes}: {other}");
                editor.WriteMark(mark.Source, mark.Becomes, mark.Level);
                break;
            case EditOrder.Mark mark:
                Expect(editor, mark.Source, mark.Key, mark.Was);
                if (mark.Key == mark.Becomes) editor.WriteMark(mark.Source, mark.Key, mark.Level);
                else if (editor.MarkAt(mark.Source, mark.Becomes) is { } there) throw new Clash($"{mark.Source} has a mark at {mark.Becomes}: {there}");
                else editor.MoveMark(mark.Source, mark.Key, mark.Becomes, mark.Level);
                break;
            case EditOrder.Unmark unmark:
                Expect(editor, unmark.Source, unmark.Key, unmark.Was);
                editor.EraseMark(unmark.Source, unmark.Key);
                break;
            case EditOrder.Accept accept:
                foreach (var proposal in accept.Proposals) FoldAcceptance.Write(proposal, editor);
                break;
            case EditOrder.Within within:
                editor.SetScalar(within.By.ToString("0.##", CultureInfo.InvariantCulture) + " LU", "sources", within.Source, "within");
                break;
            case EditOrder.Pin { Gain: { } gain } pin:
                editor.WritePin(pin.Source, pin.Key, gain.ToString("0.##", CultureInfo.InvariantCulture) + " dB");
                break;
            case EditOrder.Pin pin:
                if (!editor.ErasePin(pin.Source, pin.Key)) throw new Clash($"{pin.Source} has no pin at {pin.Key} any more");
                break;
        }
        check(editor.Text);
        return editor.Text;
    }

    private static void Expect(PlanEditor editor, string source, string key, string? was)
    {
        var now = editor.MarkAt(source, key) ?? throw new Clash($"{source} has no mark at {key} any more");
        if (was is not null && now != was) throw new Clash($"the mark of {source} at {key} is {now} by now, not {was}");
    }

    private void Step(bool isUndo)
    {
        if (isUndo ? _undo.Count == 0 : _redo.Count == 0) throw new Clash(isUndo ? "there is nothing to take back" : "there is nothing to take again");
        if (isUndo)
        {
            _redo.Push(Text);
            var before = _undo[^1];
            _undo.RemoveAt(_undo.Count - 1);
            Take(before, isStep: false);
        }
        else
        {
            Remember(Text, isNew: false);
            Take(_redo.Pop(), isStep: false);
        }
    }

    private void Take(string text, bool isStep)
    {
        if (isStep && text == Text) return;
        if (isStep) Remember(Text);
        Text = text;
        // While somebody else's text stands in the file, nothing is written over it.
        if (_theirs is null) Save();
    }

    private void Remember(string text, bool isNew = true)
    {
        _undo.Add(text);
        if (_undo.Count > MostSteps) _undo.RemoveAt(0);
        if (isNew) _redo.Clear();
    }

    private void Save()
    {
        try
        {
            if (file.Read() is null) throw new IOException("The plan's file is gone.");
            Write();
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            _trouble = $"the plan could not be written: {problem.Message}";
        }
    }

    private void Write()
    {
        file.Write(Text);
        (_onDisk, _theirs, _trouble) = (Text, null, null);
    }

    private void Settle(SettleKind how)
    {
        switch (how)
        {
            case SettleKind.Again when _theirs is null:
            case SettleKind.Mine:
                if (_theirs is { } theirs) Remember(theirs);
                try
                {
                    Write();
                }
                catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
                {
                    _trouble = $"the plan could not be written: {problem.Message}";
                }
                break;
            case SettleKind.Theirs when _theirs is { } found:
                Remember(Text);
                (_onDisk, Text, _theirs, _trouble) = (found, found, null, null);
                break;
            case SettleKind.Beside:
                try
                {
                    _notice = $"Kept in {file.WriteBeside(Text, time.GetLocalNow())}";
                }
                catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
                {
                    throw new Clash($"it could not be kept there either: {problem.Message}; take it with the browser");
                }
                break;
            default: throw new Clash("there is nothing to settle so");
        }
    }

    private static string Sentence(InputException wrong) => wrong.Faults[0] is var fault ? $"{(fault.Place.Line > 0 ? $"line {fault.Place.Line}: " : "")}{fault.Found}; {fault.Remedy}" : wrong.Message;

    /// <summary>An edit that does not fit what is there.</summary>
    private sealed class Clash(string what) : Exception(what);
}
