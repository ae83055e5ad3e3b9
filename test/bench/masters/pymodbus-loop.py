"""One read after the other, in turn, with pymodbus's own timing.

usage: pymodbus-loop.py PATH BAUD ANSWER_MS
One task a line in, one report a line out, as JSON.
"""
import json
import logging
import resource
import sys
import time

from pymodbus.client import ModbusSerialClient
from pymodbus.transaction import ModbusRtuFramer

REGISTERS = 7


def cpu():
    used = resource.getrusage(resource.RUSAGE_SELF)
    return used.ru_utime + used.ru_stime


def run(client, task):
    counts = {"answered": 0, "failed": 0}
    began, used = time.monotonic(), cpu()
    until = began + task["ms"] / 1000
    while time.monotonic() < until:
        for unit in task["units"]:
            try:
                failed = client.read_input_registers(0, REGISTERS, slave=unit).isError()
            except Exception:  # the library raises as well as returns
                failed = True
            counts["failed" if failed else "answered"] += 1
    return {**counts, "elapsedMs": 1000 * (time.monotonic() - began), "cpuMs": 1000 * (cpu() - used)}


def main():
    logging.disable(logging.CRITICAL)
    path, baud, answer_ms = sys.argv[1], int(sys.argv[2]), int(sys.argv[3])
    client = ModbusSerialClient(
        port=path, framer=ModbusRtuFramer, baudrate=baud, bytesize=8, parity="N", stopbits=1, retries=0, retry_on_empty=False
    )
    client.params.timeout = answer_ms / 1000  # the constructor takes whole seconds only
    if not client.connect():
        sys.exit(f"cannot open {path}")
    print("ready", flush=True)
    for line in sys.stdin:
        print(json.dumps(run(client, json.loads(line))), flush=True)
    client.close()


main()
