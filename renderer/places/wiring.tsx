import { Button } from '@mantine/core'
import { dateText } from '../figures/number-text.ts'
import { PlaceColumns } from '../parts/place-columns.tsx'
import type { PointView } from '../state/point-view.ts'
import { LeadOhms } from './wiring/lead-ohms.tsx'
import { terminalOf } from './wiring/lead-roles.ts'
import { LeadsForm } from './wiring/leads-form.tsx'
import { LeadsTable } from './wiring/leads-table.tsx'
import { WiringCostFacts } from './wiring/wiring-cost-facts.tsx'
import { WiringDrawing } from './wiring/wiring-drawing.tsx'

/** Narrower than this, three columns would leave the drawing too small to be read. */
const drawingLegibleFrom = 1_200

/** Which lead goes to which terminal, what lies between, what it costs, and what an ohmmeter is to show. */
export function WiringPlace({ view }: { view: PointView }) {
  const { point, job, indicator } = view
  return (
    <>
      <p className="print-head">
        <b>{point.tag}</b> {point.name}, {job.name}. {indicator ? `${indicator.name}, unit ${indicator.unit}.` : ''} Printed{' '}
        {dateText(new Date())}
        {job.simulated ? '. Practice: simulated indicator, no real machine.' : '.'}
      </p>
      <PlaceColumns
        place="wiring"
        leastWidth={drawingLegibleFrom}
        columns={[
          {
            className: 'wiring-form',
            parts: [
              {
                name: 'Cable and leads',
                print: false,
                content: (
                  <>
                    <LeadsForm view={view} />
                    <WiringCostFacts view={view} />
                  </>
                ),
              },
            ],
          },
          {
            className: 'wiring-terminals',
            main: true,
            parts: [
              {
                name: 'Terminals',
                beside: (
                  <Button className="no-print" onClick={() => window.print()}>
                    Print the drawing…
                  </Button>
                ),
                content: (
                  <>
                    <WiringDrawing view={view} />
                    {point.wiring.wires === 4 && terminalOf(view, 'sense+') ? (
                      <p className="second small">
                        Four wires: link sense to excitation at the indicator’s terminals, {terminalOf(view, 'sense+')} to{' '}
                        {terminalOf(view, 'excitation+')} and {terminalOf(view, 'sense-')} to {terminalOf(view, 'excitation-')}.
                      </p>
                    ) : null}
                    <LeadsTable view={view} />
                  </>
                ),
              },
            ],
          },
          { className: 'wiring-ohms', parts: [{ name: 'Ohms between the leads', content: <LeadOhms view={view} /> }] },
        ]}
      />
    </>
  )
}
