import type { Job } from '../../app/job/schema.ts'
import { practiceJob } from '../../main/practice/practice-job.ts'

/** A job on indicators that nobody answers for: one is set over the bus, two are set at their front panels. */
export function panelJob(): Job {
  const practice = practiceJob()
  const [hopper] = practice.points
  if (!hopper) throw new Error('the practice job has a hopper')
  const loadPath = { sharePercent: '100', deadLoad: { value: '50', unit: 'kg' as const } }
  const [cell] = hopper.sensors.certificates
  if (!cell) throw new Error('the hopper has sensors')
  const sensors = {
    trimmed: false,
    certificates: [{ ...cell, zeroBalance: { value: '0', unit: 'mV/V' as const }, ratedOutput: { value: '2', unit: 'mV/V' as const } }],
  }
  // 500 kg at 2 mV/V under 50 kg of dead load: 0.2 mV/V at zero, 2.2 mV/V at 500 kg
  const silo = { ...hopper, sensors, loadPath, maximumLoad: '500', scaleInterval: '1' }
  const indicator = (n: number, name: string, profileId: string) => ({ id: `ind-${n}`, name, busId: 'bus-1', unit: n, profileId })
  return {
    ...practice,
    simulated: false,
    buses: [{ id: 'bus-1', name: 'Line', link: { kind: 'modbus-tcp', host: '127.0.0.1', port: 9 } }],
    indicators: [
      indicator(1, 'Transmitter', 'two-pairs-float32-locked'),
      indicator(2, 'Panel meter', 'reading-alone-on-the-bus'),
      indicator(3, 'Press meter', 'front-panel-only'),
    ],
    points: [
      hopper,
      { ...silo, id: 'wt-401', tag: 'WT-401', name: 'Silo <west>', indicatorId: 'ind-2' },
      { ...silo, id: 'ft-501', tag: 'FT-501', name: 'Press', indicatorId: 'ind-3', maximumLoad: '400' },
    ],
  }
}
