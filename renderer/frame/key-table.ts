/** `ctrl` is the Command key on a Mac. Where `shift` is not said it does not matter: on many keyboards a sign needs it. */
type Chord = { key: string; ctrl?: true; shift?: boolean }
export type KeyRow = {
  shown: string
  does: string
  where: 'Everywhere' | 'A field' | 'Table of points' | 'One point' | 'Check' | 'Trend' | 'Registers'
  chords: readonly Chord[]
  /** Obeyed by the browser itself, as a button is pressed by Enter. */
  native?: true
}

const chords = (...keys: string[]): Chord[] => keys.map((key) => ({ key }))

/** What keys do. Whoever obeys a key asks `pressed`; the help sheet shows the same rows. */
export const keyTable = {
  stop: { where: 'Everywhere', shown: 'Shift Esc', does: 'stop sending on every bus', chords: [{ key: 'Escape', shift: true }] },
  back: { where: 'Everywhere', shown: 'Esc', does: 'close what is open, or back to all points', chords: [{ key: 'Escape', shift: false }] },
  find: { where: 'Everywhere', shown: '/ or Ctrl K', does: 'find a point', chords: [{ key: '/' }, { key: 'k', ctrl: true, shift: false }] },
  undo: {
    where: 'Everywhere',
    shown: 'Ctrl Z',
    does: 'undo the last edit; in a field, the typing',
    chords: [{ key: 'z', ctrl: true, shift: false }],
  },
  redo: {
    where: 'Everywhere',
    shown: 'Ctrl Shift Z or Ctrl Y',
    does: 'redo it',
    chords: [
      { key: 'z', ctrl: true, shift: true },
      { key: 'y', ctrl: true, shift: false },
    ],
  },
  distance: { where: 'Everywhere', shown: 'D', does: 'readings large enough to be read from afar', chords: [{ key: 'd', shift: false }] },
  explain: {
    where: 'Everywhere',
    shown: 'F1',
    does: 'explain the term in focus, or of its field',
    chords: chords('F1'),
  },
  help: { where: 'Everywhere', shown: '?', does: 'this sheet', chords: chords('?') },
  put: { where: 'A field', shown: 'Enter', does: 'put in what was typed', chords: chords('Enter') },
  takeBack: {
    where: 'A field',
    shown: 'Esc',
    does: 'take out what was typed',
    chords: [{ key: 'Escape', shift: false }],
  },
  firstFound: { where: 'A field', shown: '↓ or Enter in Find', does: 'go to the first point found', chords: chords('ArrowDown', 'Enter') },
  move: {
    where: 'Table of points',
    shown: '← → ↑ ↓',
    does: 'another cell',
    chords: chords('ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown'),
  },
  far: { where: 'Table of points', shown: 'Page ↑ ↓', does: 'ten rows on', chords: chords('PageUp', 'PageDown') },
  ends: { where: 'Table of points', shown: 'Home, End', does: 'first and last place of the row', chords: chords('Home', 'End') },
  enter: { where: 'Table of points', shown: 'Enter', does: 'open that place of that point', chords: chords('Enter'), native: true },
  choose: { where: 'Table of points', shown: 'Space', does: 'choose the point, or not', chords: chords(' ') },
  chooseMore: {
    where: 'Table of points',
    shown: 'Shift ↑ ↓',
    does: 'choose several',
    chords: ['ArrowUp', 'ArrowDown', 'PageUp', 'PageDown'].map((key) => ({ key, shift: true })),
  },
  chooseAll: {
    where: 'Table of points',
    shown: 'Ctrl A',
    does: 'choose all that are shown',
    chords: [{ key: 'a', ctrl: true, shift: false }],
  },
  place: { where: 'One point', shown: '← →', does: 'another place of the same point', chords: chords('ArrowLeft', 'ArrowRight') },
  point: { where: 'One point', shown: '↑ ↓', does: 'another point, same place', chords: chords('ArrowUp', 'ArrowDown') },
  take: { where: 'Check', shown: 'T', does: 'take the reading, once it is steady', chords: [{ key: 't', shift: false }] },
  earlier: { where: 'Trend', shown: '←', does: 'earlier', chords: chords('ArrowLeft') },
  later: { where: 'Trend', shown: '→', does: 'later', chords: chords('ArrowRight') },
  zoomIn: { where: 'Trend', shown: '+', does: 'a shorter time', chords: chords('+') },
  zoomOut: { where: 'Trend', shown: '−', does: 'a longer time', chords: chords('-') },
  follow: { where: 'Trend', shown: '0', does: 'follow again', chords: chords('0') },
  cursor: { where: 'Trend', shown: '← → on a cursor', does: 'move it, with Shift further', chords: chords('ArrowLeft', 'ArrowRight') },
  cursorEnds: { where: 'Trend', shown: 'Home, End on a cursor', does: 'to the edges of the chart', chords: chords('Home', 'End') },
  register: {
    where: 'Registers',
    shown: '← → ↑ ↓',
    does: 'another number',
    chords: chords('ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown'),
  },
} as const satisfies Record<string, KeyRow>

export type KeyName = keyof typeof keyTable

type Pressed = Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'shiftKey' | 'altKey'>

/** On a Mac the key is another one, with another name. */
const isMac = typeof navigator !== 'undefined' && /Mac|iPhone|iPad/.test(navigator.platform)
export const keyName = (shown: string): string => (isMac ? shown.replaceAll('Ctrl', 'Cmd') : shown)

export function pressed(event: Pressed, name: KeyName): boolean {
  const { chords }: KeyRow = keyTable[name]
  return chords.some(
    (chord) =>
      event.key.toLowerCase() === chord.key.toLowerCase() &&
      (event.ctrlKey || event.metaKey) === (chord.ctrl ?? false) &&
      !event.altKey &&
      (chord.shift === undefined || event.shiftKey === chord.shift),
  )
}
