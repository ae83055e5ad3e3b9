/** The chart as it stands under a heading of its own, on the ground of the page. */
export function chartPicture(chart: HTMLCanvasElement, heading: readonly string[]): Promise<Blob | null> {
  const scale = chart.clientWidth > 0 ? chart.width / chart.clientWidth : 1
  const top = Math.round(scale * (12 + heading.length * 20))
  const picture = document.createElement('canvas')
  picture.width = chart.width
  picture.height = chart.height + top
  const ctx = picture.getContext('2d')
  if (!ctx) return Promise.resolve(null)
  const style = getComputedStyle(document.documentElement)
  ctx.fillStyle = style.getPropertyValue('--ground').trim()
  ctx.fillRect(0, 0, picture.width, picture.height)
  ctx.fillStyle = style.getPropertyValue('--ink').trim()
  ctx.textBaseline = 'top'
  for (const [line, text] of heading.entries()) {
    ctx.font = `${line === 0 ? '600 ' : ''}${14 * scale}px ${getComputedStyle(document.body).fontFamily}`
    ctx.fillText(text, 12 * scale, scale * (8 + line * 20))
  }
  ctx.drawImage(chart, 0, top)
  return new Promise((resolve) => picture.toBlob(resolve, 'image/png'))
}
