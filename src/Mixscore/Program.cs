using Mixscore;
using Mixscore.Screen;

using var interrupted = new CancellationTokenSource();
Console.CancelKeyPress += (_, pressed) =>
{
    pressed.Cancel = true;   // a file being written is given up whole, not cut
    interrupted.Cancel();
};
return await CommandLine.RunAsync(args, Terminal.OfProcess(), interrupted.Token);
