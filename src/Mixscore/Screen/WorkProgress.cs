using Spectre.Console;

namespace Mixscore.Screen;

/// <summary>A progress bar where a person is looking and the work takes over a second; nothing otherwise.</summary>
internal static class WorkProgress
{
    internal static async Task<T> RunAsync<T>(Terminal terminal, string what, Func<IProgress<double>, Task<T>> work)
    {
        if (!terminal.IsInteractive) return await work(new Silent());
        return await terminal.Status.Progress()
            .AutoClear(true)
            .Columns(new TaskDescriptionColumn(), new ProgressBarColumn(), new PercentageColumn(), new RemainingTimeColumn())
            .StartAsync(async context =>
            {
                var task = context.AddTask(Markup.Escape(what), maxValue: 1);
                return await work(new Bar(task));
            });
    }

    internal static Task<T> RunAsync<T>(Terminal terminal, string what, Func<IProgress<double>, T> work) =>
        RunAsync(terminal, what, progress => Task.Run(() => work(progress)));

    private sealed class Silent : IProgress<double>
    {
        public void Report(double value)
        {
        }
    }

    private sealed class Bar(ProgressTask task) : IProgress<double>
    {
        public void Report(double value)
        {
            lock (task) task.Value = Math.Max(task.Value, value);
        }
    }
}
