import { Button } from '@mantine/core'

/** Something that can be pulled out and put back, and whether it is out now. */
export function Pull(props: { what: string; whose: string; connected: boolean; running: boolean; onChange: (connected: boolean) => void }) {
  const { what, whose, connected, running, onChange } = props
  return (
    <>
      {connected ? null : <span className="attention">{what} is out</span>}
      <Button
        loading={running}
        aria-label={`${whose}: ${connected ? `pull the ${what}` : `put the ${what} back`}`}
        onClick={() => onChange(!connected)}
      >
        {connected ? `Pull the ${what}` : `Put the ${what} back`}
      </Button>
    </>
  )
}
