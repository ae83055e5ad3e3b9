/** When a sheet is printed, a UTC instant as text, and the IANA time zone of those who read it. */
export type Printing = { at: string; zone: string }

export type InstantText = (iso: string) => string

/** Says UTC instants as clocks in `zone` show them, with what those are apart from UTC at that date: "2026-05-04 10:30 (UTC+02:00)". */
export function localTime(zone: string): InstantText {
  const format = new Intl.DateTimeFormat('en-GB', {
    timeZone: zone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
    timeZoneName: 'longOffset',
  })
  return (iso) => {
    const part = Object.fromEntries(format.formatToParts(new Date(iso)).map((p) => [p.type, p.value]))
    const apart = part['timeZoneName']?.replace(/^GMT(\+00:00)?/, 'UTC').replace('-', '−')
    return `${part['year']}-${part['month']}-${part['day']} ${part['hour']}:${part['minute']} (${apart})`
  }
}
