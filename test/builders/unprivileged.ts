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
