/** What had the focus, the parts of the page that it stood in, innermost first, and the dialog or panel among them. */
type Stand = { element: HTMLElement; within: readonly HTMLElement[]; region: HTMLElement | null }

const regions = '[role="dialog"], .panel'
const focusable = ':is(a[href], button, input, select, textarea, summary, [tabindex="0"]):not([disabled], [tabindex="-1"])'
/** Where keys start when a whole screen has been changed for another: the place in the chain, the cell in the table. */
const home = ':is(.chain [aria-current="page"], .points tbody button.cell[tabindex="0"])'
const remembered = 20

export const focusHome = (): void =>
  void requestAnimationFrame(() => document.querySelector<HTMLElement>(home)?.focus({ preventScroll: true }))

/**
 * Gives the focus back whenever what had it is taken away or disabled. A dialog keeps it while it is open; a dialog or panel that is gone
 * gives it to what opened it; anything else that is gone, to what now stands in its place. What is only busy gets it again afterwards.
 * Whoever works with the pointer keeps his focus where he clicked: only dialogs and panels, which listen for Esc, are given it then.
 */
export function keepFocus(page: Document): void {
  let trail: Stand[] = []
  let byKeys = false
  let pending = false

  const lost = () => page.activeElement === null || page.activeElement === page.body
  const look = () => {
    if (pending) return
    pending = true
    requestAnimationFrame(() => {
      pending = false
      const last = trail.at(-1)
      if (!last || !lost()) return
      const { element, region } = last
      if (element.isConnected && usable(element)) {
        if (element.dataset['busy'] === 'yes') element.focus({ preventScroll: true })
        delete element.dataset['busy']
        return
      }
      if (element.isConnected && element.dataset['loading'] === 'true') {
        element.dataset['busy'] = 'yes'
        return
      }
      const next = region?.isConnected ? inRegion(region, last) : region ? beforeRegion(region) : byKeys ? near(last) : null
      next?.focus({ preventScroll: true })
    })
  }

  /** An open dialog holds it itself: a key pressed twice then presses nothing that has just appeared. */
  const inRegion = (region: HTMLElement, last: Stand): HTMLElement => {
    if (region.getAttribute('role') !== 'dialog') return near(last, region) ?? region
    return region
  }

  const beforeRegion = (region: HTMLElement): HTMLElement | null => {
    trail = trail.filter((stand) => stand.region !== region)
    const before = trail.at(-1)
    if (!before) return page.querySelector<HTMLElement>(home)
    return before.element.isConnected && usable(before.element) ? before.element : near(before)
  }

  /** The next thing after it, or what is now where it stood. */
  const near = ({ element, within }: Stand, inside?: HTMLElement): HTMLElement | null => {
    for (const part of within) {
      if (!part.isConnected) continue
      if (part.querySelector(home) || part === page.body) break
      const all = [...part.querySelectorAll<HTMLElement>(focusable)].filter((e) => usable(e))
      const after = element.isConnected ? all.find((e) => element.compareDocumentPosition(e) & Node.DOCUMENT_POSITION_FOLLOWING) : all[0]
      const found = after ?? all.at(-1)
      if (found) return found
      if (part === inside) break
    }
    return inside ?? page.querySelector<HTMLElement>(home)
  }

  page.addEventListener('focusin', ({ target }) => {
    if (!(target instanceof HTMLElement) || target === page.body) return
    const within: HTMLElement[] = []
    for (let part = target.parentElement; part; part = part.parentElement) within.push(part)
    trail = [
      ...trail.filter((stand) => stand.element !== target),
      { element: target, within, region: target.closest<HTMLElement>(regions) },
    ].slice(-remembered)
  })
  page.addEventListener(
    'keydown',
    () => {
      byKeys = true
    },
    true,
  )
  page.addEventListener(
    'pointerdown',
    () => {
      byKeys = false
      const last = trail.at(-1)
      if (last) delete last.element.dataset['busy']
    },
    true,
  )
  new MutationObserver(look).observe(page.body, { childList: true, subtree: true, attributes: true, attributeFilter: ['disabled'] })
}

const usable = (element: HTMLElement): boolean => !element.matches(':disabled') && element.getClientRects().length > 0
