import { type ReactNode, useLayoutEffect, useRef, useState } from 'react'

/** Less than this hidden is no more than the room around the last line. */
const worthSayingPx = 8

/** A part that scrolls by itself and says at its lower edge when there is more. */
export function Scroller({ className = '', children }: { className?: string; children: ReactNode }) {
  const area = useRef<HTMLDivElement>(null)
  const content = useRef<HTMLDivElement>(null)
  const [more, setMore] = useState(false)
  useLayoutEffect(() => {
    const box = area.current
    if (!box || !content.current) return
    const look = () => setMore(box.scrollHeight - box.clientHeight - box.scrollTop > worthSayingPx)
    look()
    const resized = new ResizeObserver(look)
    resized.observe(box)
    resized.observe(content.current)
    box.addEventListener('scroll', look, { passive: true })
    return () => {
      resized.disconnect()
      box.removeEventListener('scroll', look)
    }
  }, [])
  return (
    <div className={`scroller ${className}`}>
      <div className="scroller-area" ref={area}>
        <div className="scroller-content" ref={content}>
          {children}
        </div>
      </div>
      {more ? (
        <button
          type="button"
          className="more-below no-print"
          tabIndex={-1}
          onClick={() => area.current?.scrollBy({ top: area.current.clientHeight * 0.8 })}
        >
          <span>more below ↓</span>
        </button>
      ) : null}
    </div>
  )
}
