/** B612's figures in their own em, and signs and thin spaces, about. */
const figureEm = 0.65
const signEm = 0.36
/** Room left and right of the digits. */
const asidePx = 40

/** Read from 2 to 5 m: height of the digits in pixels. */
export const smallestPx = 72
export const largestPx = 180
export const mostPoints = 12

/** Tag above, unit and state below: smaller than the digits, and still large. */
export const besideSize = (digitPx: number): number => Math.round(Math.min(40, Math.max(20, digitPx * 0.22)))
/** Height of one reading with its two lines and the room around them. */
const heightOf = (digitPx: number) => digitPx * 1.05 + besideSize(digitPx) * 3.1 + 8

export const emsOf = (text: string): number => [...text].reduce((sum, c) => sum + (/\d/.test(c) ? figureEm : signEm), 0)

/** How many columns give the largest digits, and how large; the widest text decides for all, so that they stay comparable. */
export function distanceGrid(count: number, widest: number, room: { width: number; height: number }): { columns: number; digitPx: number } {
  let best = { columns: 1, digitPx: 0 }
  for (let columns = 1; columns <= count; columns += 1) {
    const rows = Math.ceil(count / columns)
    const byWidth = (room.width / columns - asidePx) / widest
    let digitPx = Math.floor(Math.min(byWidth, largestPx))
    while (digitPx > 0 && heightOf(digitPx) > room.height / rows) digitPx -= 1
    if (digitPx > best.digitPx) best = { columns, digitPx }
  }
  return { columns: best.columns, digitPx: Math.max(best.digitPx, smallestPx) }
}
