/**
 * The wire, on a thread of its own: sound goes straight on to the audio thread, so that whatever the page draws can delay
 * neither. A wire that breaks is joined again by itself.
 */
const retryAfter = 300;
let socket: WebSocket | null = null;
let sound: MessagePort | null = null;
let wantsSound = false;

function open(url: string) {
  const opened = new WebSocket(url);
  opened.binaryType = 'arraybuffer';
  opened.onopen = () => {
    socket = opened;
    if (wantsSound) opened.send('sound');
    postMessage('open');
  };
  opened.onmessage = ({ data }: MessageEvent<string | ArrayBuffer>) => {
    if (typeof data === 'string') postMessage(data);
    else if (new Uint8Array(data, 0, 1)[0] === 1) sound?.postMessage(data, [data]);
    else postMessage(data, { transfer: [data] });
  };
  opened.onclose = () => {
    socket = null;
    postMessage('closed');
    setTimeout(() => open(url), retryAfter);
  };
}

onmessage = ({ data, ports }: MessageEvent<{ open: string } | { send: string } | { sound: boolean }>) => {
  if ('open' in data) open(data.open);
  else if ('send' in data) socket?.send(data.send);
  else {
    sound = ports[0] ?? sound;
    wantsSound = data.sound;
    socket?.send(wantsSound ? 'sound' : 'silence');
  }
};
