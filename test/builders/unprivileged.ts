/** Permissions mean nothing to the superuser, who runs the tests on some machines. */
export function unprivileged<T>(act: () => T): T {
  if (process.geteuid?.() !== 0) return act()
  process.seteuid?.(65_534)
  try {
    return act()
  } finally {
    process.seteuid?.(0)
  }
}

/** The same for what takes its time; nothing else may run meanwhile. */
export async function unprivilegedUntil(act: () => Promise<void>): Promise<void> {
  if (process.geteuid?.() !== 0) return act()
  process.seteuid?.(65_534)
  try {
    await act()
  } finally {
    process.seteuid?.(0)
  }
}
