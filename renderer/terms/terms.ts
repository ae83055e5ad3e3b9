/** Words of the trade, each in one sentence for somebody who meets it for the first time. */
export const terms = {
  // load
  'maximum load': 'The largest load that the point is meant to show.',
  'scale interval': 'The step in which readings are shown, written d.',
  'verification scale interval': 'The step by which an instrument for legal trade is classed and verified, written e; often it equals d.',
  tolerance: 'How far a reading may be off the known load and still be called right.',
  'load path': 'Everything between the load and the sensors that decides how much of it they feel.',
  'share on the sensors': 'The part of the load that the sensors carry; fixed supports, levers or ropes carry the rest.',
  'dead load': 'What stands on the sensors always, besides the load: vessel, platform, pipes.',
  gravity: 'The same mass weighs up to half a percent more or less from place to place on earth.',
  'gauge pressure': 'Gauge counts from the air outside, absolute from vacuum, differential from the pressure on the other side.',
  'head of fluid': 'The pressure that a column of fluid makes by its own height.',
  // sensors
  capacity: 'The load up to which the sensor is made to measure.',
  'rated output': 'What the signal rises by from no load to capacity, in mV for each volt of excitation.',
  'zero balance': 'The signal of a sensor with nothing on it.',
  'input resistance': 'Ohms between the two excitation leads of a sensor.',
  'output resistance': 'Ohms between the two signal leads of a sensor.',
  excitation: 'The voltage that feeds the bridge; its signal goes in proportion.',
  'safe overload': 'The largest load or pressure that leaves no lasting change, in percent of capacity.',
  'calibration table': 'Outputs that a laboratory found at several loads; it follows a sensor that is not quite straight.',
  'trimmed box': 'A junction box whose resistors were set so that all corners read alike; that takes some of the signal.',
  // wiring
  'six-wire': 'Two more leads sense the excitation where they join the others, so that losses up to there do not count.',
  'junction box': 'Where the leads of several sensors come together into one cable.',
  'extension cable': 'Cable between the sensor’s own and the box; what its ohms take from the excitation is missing in the signal.',
  barrier: 'A part that limits the energy on its way into a hazardous area and puts ohms into each lead.',
  // input
  'input range': 'The largest signal that the input can take.',
  headroom: 'What is left between the largest signal to be expected and the limit of the input.',
  filter: 'Averages the signal: calmer digits that follow a change later.',
  'µV per interval': 'What the signal changes by when the reading changes by one scale interval; too few drown in noise.',
  ratiometric: 'The input compares the signal with the excitation, so that a change of the excitation cancels.',
  'gain error': 'How far off the slope of the input may be, by the maker’s word.',
  // scaling
  'zero signal': 'The signal with nothing on the point but its dead load.',
  span: 'What the signal rises by from no load to maximum load.',
  'scaling pair': 'A signal and the reading that belongs to it; two of them fix the straight line in between.',
  sensitivity: 'The signal for a given load, here at capacity; of a scaling, the one that it would fit.',
  shunt: 'A known resistor across one arm of the bridge: it changes the signal by a known amount without any load.',
  // settings
  'as found': 'What was there when the visit began; it is kept and never changed.',
  'as left': 'What is there at the end of the visit.',
  held: 'What the indicator has in it now, as it was last read.',
  intended: 'What the indicator is to hold; chosen here, and written only after a review.',
  seal: 'Closes an instrument for legal trade; once broken, it has to be verified again.',
  // reading
  gross: 'All that is on the point besides its dead load.',
  net: 'Gross less the tare.',
  tare: 'What is taken out of the net value: a container, for instance.',
  noise: 'How much the signal scatters while nothing changes.',
  derived: 'Computed back from the reading through the very scaling values in question, so not measured.',
  // check
  'quick check': 'A few known loads put on by hand, to see whether the reading follows.',
  superseded: 'Made before something changed that it depends on; it does not tell of the point as it is now.',
  // panels
  visit: 'One dated stay at this job, with who was there and what was found and left.',
  profile: 'The description of an indicator model: its registers, procedures and limits.',
  address: 'The number by which an indicator is asked on its line, 1 to 247.',
  bus: 'One line or network that indicators are reached by; one request at a time.',
} as const satisfies Record<string, string>

export type TermName = keyof typeof terms
