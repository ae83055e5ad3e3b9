"""Works the practice indicator as an outside master would: addresses and word orders are written here by hand.

usage: pymodbus-master.py serial PATH | rtu-over-tcp PORT | modbus-tcp PORT   before | after
Prints one JSON object. Unit 1; 32-bit values lie high word first.
"""
import json
import struct
import sys
import time

from pymodbus.client import ModbusSerialClient, ModbusTcpClient
from pymodbus.transaction import ModbusRtuFramer

UNIT = 1
UPPER_SIGNAL = 114
LOCK = 200
COMMAND = 201


def connect(kind, where):
    if kind == "serial":
        return ModbusSerialClient(port=where, framer=ModbusRtuFramer, baudrate=19200, bytesize=8, parity="N", stopbits=1, timeout=2)
    if kind == "rtu-over-tcp":
        return ModbusTcpClient("127.0.0.1", port=int(where), framer=ModbusRtuFramer, timeout=2)
    return ModbusTcpClient("127.0.0.1", port=int(where), timeout=2)


def answer(reply):
    """What an answer says, short."""
    if reply.isError():
        code = getattr(reply, "exception_code", None)
        return {"exception": code} if code is not None else {"failed": str(reply)}
    return "done"


def words(reply):
    return answer(reply) if reply.isError() else list(reply.registers)


def floats(reply):
    """Single floats, high word first."""
    if reply.isError():
        return answer(reply)
    raw = struct.pack(f">{len(reply.registers)}H", *reply.registers)
    return list(struct.unpack(f">{len(raw) // 4}f", raw))


def before(client):
    read = lambda address, count: client.read_holding_registers(address, count, slave=UNIT)
    write = lambda address, values: client.write_registers(address, values, slave=UNIT)
    result = {}
    result["identity"] = words(read(0, 4))
    result["pairs"] = floats(read(110, 8))
    result["live"] = floats(client.read_input_registers(1, 6, slave=UNIT))
    result["status"] = words(client.read_input_registers(0, 1, slave=UNIT))
    new = struct.unpack(">2H", struct.pack(">f", 1.25))
    result["locked write"] = answer(write(UPPER_SIGNAL, list(new)))
    result["single-register write"] = answer(client.write_register(100, 0, slave=UNIT))
    result["unlock"] = answer(write(LOCK, [0x5AA5]))
    result["lock reads"] = words(read(LOCK, 1))
    result["write"] = answer(write(UPPER_SIGNAL, list(new)))
    result["half a float"] = answer(write(UPPER_SIGNAL, [new[0]]))
    result["beyond the limit"] = answer(write(UPPER_SIGNAL, list(struct.unpack(">2H", struct.pack(">f", 3.75)))))
    result["nothing there"] = answer(read(500, 1))
    result["read back"] = floats(read(UPPER_SIGNAL, 2))
    result["unsaved status"] = words(client.read_input_registers(0, 1, slave=UNIT))
    result["save"] = answer(write(COMMAND, [1]))
    time.sleep(0.3)  # the indicator's own time for saving
    result["saved status"] = words(client.read_input_registers(0, 1, slave=UNIT))
    result["volatile write"] = answer(write(112, list(struct.unpack(">2H", struct.pack(">f", -5.5)))))
    return result


def after(client):
    read = lambda address, count: client.read_holding_registers(address, count, slave=UNIT)
    return {"lock reads": words(read(LOCK, 1)), "pairs": floats(read(110, 8))}


def main():
    kind, where, part = sys.argv[1:4]
    client = connect(kind, where)
    if not client.connect():
        sys.exit(f"cannot connect to {where}")
    try:
        print(json.dumps(before(client) if part == "before" else after(client)))
    finally:
        client.close()


main()
