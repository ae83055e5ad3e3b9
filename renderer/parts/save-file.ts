/** Hands a file to the user through the browser's own saving. */
export function saveFile(name: string, content: Blob): void {
  const address = URL.createObjectURL(content)
  const link = document.createElement('a')
  link.href = address
  link.download = name
  link.click()
  // The browser reads the address when it gets round to it.
  setTimeout(() => URL.revokeObjectURL(address), 60_000)
}
