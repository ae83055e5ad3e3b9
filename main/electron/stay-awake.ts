type Blocker = { start(type: 'prevent-app-suspension'): number; stop(id: number): unknown }

/** Keeps the computer from sleeping while something runs. The result is told whenever that begins or ends; telling it twice does no harm. */
export function stayAwake(blocker: Blocker): (running: boolean) => void {
  let held: number | undefined
  return (running) => {
    if (running && held === undefined) held = blocker.start('prevent-app-suspension')
    if (!running && held !== undefined) {
      blocker.stop(held)
      held = undefined
    }
  }
}
