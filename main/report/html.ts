/** Markup that is already safe. Only `html` and `join` make it. */
export type Html = { readonly markup: string }

const escapes: Record<string, string> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' }
const escapeText = (text: string) => text.replace(/[&<>"']/g, (c) => escapes[c] ?? c)

/** Template for markup; whatever is put in is escaped unless it is markup itself. */
export function html(parts: TemplateStringsArray, ...values: readonly (string | number | Html | readonly Html[])[]): Html {
  const put = (v: string | number | Html | readonly Html[]): string =>
    typeof v === 'string' || typeof v === 'number' ? escapeText(String(v)) : Array.isArray(v) ? v.map(put).join('') : (v as Html).markup
  return { markup: parts.reduce((whole, part, i) => whole + put(values[i - 1] ?? '') + part) }
}
