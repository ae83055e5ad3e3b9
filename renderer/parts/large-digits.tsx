import { numberText } from '../figures/number-text.ts'
import { useDecimalSign } from './decimal-sign.ts'

const largest = 96
const smallest = 44
/** Width of the column in the digits' own em, about: B612's figures are 0.65 em wide. */
const columnPx = 352

/** The reading to be read from afar; as large as its digits let it be, struck out once it is not to be trusted. */
export function LargeDigits({
  reading,
  unit,
  struck,
  alarmed = false,
}: {
  reading: string | null
  unit: string
  struck: boolean
  alarmed?: boolean
}) {
  const sign = useDecimalSign()
  const text = reading === null ? '–' : numberText(reading, sign)
  const ems = [...text].reduce((sum, c) => sum + (/\d/.test(c) ? 0.65 : 0.36), 0) + unit.length * 0.24 + 0.2
  const size = Math.max(smallest, Math.min(largest, Math.floor(columnPx / ems)))
  return (
    <p className="digits" style={{ fontSize: size }}>
      <span className={struck ? 'struck' : alarmed ? 'lost' : undefined}>{text}</span>
      <span className="digits-unit"> {unit}</span>
    </p>
  )
}
