using System.Runtime.InteropServices;
using Mixscore;
using Mixscore.Project;
using Mixscore.Screen;

ReadAhead.Begin(args);
using var interrupted = new CancellationTokenSource();
Console.CancelKeyPress += (_, pressed) =>
{
    pressed.Cancel = true;   // a file being written is given up whole, not cut
    interrupted.Cancel();
};
// Told to stop by the system or a script, it ends as from the keyboard.
using var told = PosixSignalRegistration.Create(PosixSignal.SIGTERM, signal =>
{
    signal.Cancel = true;
    interrupted.Cancel();
});
return await CommandLine.RunAsync(args, Terminal.OfProcess(), interrupted.Token);
