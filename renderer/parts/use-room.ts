import { type RefObject, useLayoutEffect, useRef, useState } from 'react'

/** Size that a part has on the page in pixels, known before it is first painted and kept up with; nought until then. */
export function useRoom<T extends HTMLElement>(): { ref: RefObject<T | null>; width: number; height: number } {
  const ref = useRef<T>(null)
  const [room, setRoom] = useState({ width: 0, height: 0 })
  useLayoutEffect(() => {
    const part = ref.current
    if (!part) return
    const look = () => setRoom({ width: part.clientWidth, height: part.clientHeight })
    look()
    const resized = new ResizeObserver(look)
    resized.observe(part)
    return () => resized.disconnect()
  }, [])
  return { ref, ...room }
}
