import { settingWords } from '../../../app/profile/setting-words.ts'
import { findRegister, unitFrom } from '../../../app/profile/settings.ts'
import { useSettingText } from '../../parts/setting-text.ts'
import type { PointView } from '../../state/point-view.ts'

/** What would be put into intended, one by one, in the indicator's own registers: counts, slopes and capacities too. */
export function OfferedValues({ view, values }: { view: PointView; values: Record<string, string> }) {
  const { profile, state } = view
  const plain = useSettingText()
  if (!profile) return null
  const unitOf = (key: string) => {
    const register = findRegister(profile, key)
    return register && !register.options ? unitFrom(profile, register, (k) => values[k] ?? state?.held?.values[k]?.value) : undefined
  }
  return (
    <details className="figures">
      <summary>The values, one by one</summary>
      <table className="plain-table" aria-label="The values, one by one">
        <tbody>
          {Object.entries(values).map(([key, value]) => (
            <tr key={key}>
              <td>{settingWords(key, profile.channels)}</td>
              <td className="is-right">
                <b>{plain(value)}</b> <span className="unit">{unitOf(key)}</span>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  )
}
