/**
 * The wire, on a thread of its own: sound goes straight on to the audio thread, so that whatever the page draws can delay
 * neither. A wire that breaks, or is silent, is joined again by itself.
 */
const retryAfter = 300;
/** Values come fifty times a second: a wire that says nothing for so long is dead, whatever the network thinks. */
const deadAfter = 1200;
let url = '';
let word: string | null = null;
let socket: WebSocket | null = null;
let heardAt = 0;
let sound: MessagePort | null = null;
let wantsSound = false;

function open() {
  const opened = (socket = new WebSocket(url));
  heardAt = performance.now();
  opened.binaryType = 'arraybuffer';
  opened.onopen = () => {
    if (word) opened.send(JSON.stringify({ do: 'join', word }));
    if (wantsSound) opened.send('sound');
    postMessage('open');
  };
  opened.onmessage = ({ data }: MessageEvent<string | ArrayBuffer>) => {
    heardAt = performance.now();
    if (typeof data === 'string') postMessage(data);
    else if (new Uint8Array(data, 0, 1)[0] === 1) sound?.postMessage(data, [data]);
    else postMessage(data, { transfer: [data] });
  };
  opened.onclose = () => lose(opened);
}

function lose(lost: WebSocket) {
  if (lost !== socket) return;
  socket = null;
  lost.onmessage = lost.onclose = null;
  lost.close();
  postMessage('closed');
  setTimeout(open, retryAfter);
}

setInterval(() => {
  if (socket && performance.now() - heardAt > deadAfter) lose(socket);
}, 200);

function say(text: string): boolean {
  if (socket?.readyState !== WebSocket.OPEN) return false;
  socket.send(text);
  return true;
}

onmessage = ({ data, ports }: MessageEvent<{ open: string; word: string | null } | { send: string } | { sound: boolean }>) => {
  if ('open' in data) {
    [url, word] = [data.open, data.word];
    open();
  } else if ('send' in data) {
    if (!say(data.send)) postMessage(JSON.stringify({ kind: 'refused', why: 'the wire was lost: that was not sent, do it again' }));
  } else {
    sound = ports[0] ?? sound;
    wantsSound = data.sound;
    say(wantsSound ? 'sound' : 'silence');
  }
};
