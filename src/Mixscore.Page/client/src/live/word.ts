/** What this page calls itself when it asks for the hand: the same when it comes back, another in every tab. */
export function pageWord(): string {
  const name = 'mixscore-word';
  const made = [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, '0')).join('');
  try {
    const kept = sessionStorage.getItem(name) ?? made;
    sessionStorage.setItem(name, kept);
    return kept;
  } catch {
    return made;
  }
}
