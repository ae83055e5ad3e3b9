export type Progress = {
  /** What is being done now, in a few words. */
  say(text: string): void
  /** Lets something else be printed: on a screen the line gives way and comes back below it. */
  aside(print: () => void): void
  /** Clears what stands on the screen; nothing more is shown. */
  end(): void
}

/** Shorter work than this is not worth a line, in ms. */
const quietMs = 1_000

/** Progress on standard error, so that output can be piped: one line that changes on a screen, one line per change elsewhere. */
export function showProgress(screen: Pick<NodeJS.WriteStream, 'write' | 'isTTY'> = process.stderr): Progress {
  let text = ''
  let shown = ''
  let loud = false
  const show = () => {
    if (!loud || text === shown) return
    shown = text
    screen.write(screen.isTTY ? `\r\u001b[K${text}` : `${text}\n`)
  }
  const clear = () => {
    if (!screen.isTTY || shown === '') return
    screen.write('\r\u001b[K')
    shown = ''
  }
  const timer = setTimeout(() => {
    loud = true
    show()
  }, quietMs)
  timer.unref()
  return {
    say(next) {
      text = next
      show()
    },
    aside(print) {
      clear()
      print()
      if (screen.isTTY) show()
    },
    end() {
      clearTimeout(timer)
      clear()
      loud = false
    },
  }
}
