/** `ctrl` is the Command key on a Mac. Where `shift` is not said it does not matter: on many keyboards a sign needs it. */
type Chord = { key: string; ctrl?: true; shift?: boolean }
export type KeyRow = {
  shown: string
  does: string
  where: 'Everywhere' | 'Table of points' | 'One point' | 'Trend'
  chords: readonly Chord[]
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
  help: { where: 'Everywhere', shown: '?', does: 'this sheet', chords: chords('?') },
  move: {
    where: 'Table of points',
    shown: '← → ↑ ↓',
    does: 'another cell',
    chords: chords('ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown'),
  },
  far: { where: 'Table of points', shown: 'Page ↑ ↓', does: 'ten rows on', chords: chords('PageUp', 'PageDown') },
  ends: { where: 'Table of points', shown: 'Home, End', does: 'first and last place of the row', chords: chords('Home', 'End') },
  enter: { where: 'Table of points', shown: 'Enter', does: 'open that place of that point', chords: chords('Enter') },
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
} as const satisfies Record<string, KeyRow>

export type KeyName = keyof typeof keyTable

type Pressed = Pick<KeyboardEvent, 'key' | 'ctrlKey' | 'metaKey' | 'shiftKey' | 'altKey'>

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
