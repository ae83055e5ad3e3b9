import { useEffect, useState } from 'react'
import type { BenchUnitSeen } from '../../app/contract/practice-calls.ts'
import { useAsking } from '../state/host-context.tsx'

/** As often as a display is read with the eye. */
const everyMs = 500

/** What every unit of the bench shows, looked at again and again while the bench is on the screen. */
export function useBenchLook(): readonly BenchUnitSeen[] {
  const ask = useAsking()
  const [units, setUnits] = useState<readonly BenchUnitSeen[]>([])
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout>
    let isOver = false
    const look = async () => {
      const answer = document.hidden ? null : await ask('practice.look', {})
      if (isOver) return
      if (answer?.ok) setUnits(answer.value.units)
      timer = setTimeout(() => void look(), everyMs)
    }
    void look()
    return () => {
      isOver = true
      clearTimeout(timer)
    }
  }, [ask])
  return units
}
