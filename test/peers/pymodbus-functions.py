"""Asks a simulated unit with every function code, and reads and writes 32-bit values in both word orders.

usage: pymodbus-functions.py rtu-over-tcp|modbus-tcp PORT
Prints one JSON object. Unit 1; addresses are written here by hand.
"""
import json
import sys

from pymodbus.bit_read_message import ReadCoilsRequest, ReadDiscreteInputsRequest
from pymodbus.bit_write_message import WriteMultipleCoilsRequest, WriteSingleCoilRequest
from pymodbus.client import ModbusTcpClient
from pymodbus.constants import Endian
from pymodbus.diag_message import ReturnQueryDataRequest
from pymodbus.mei_message import ReadDeviceInformationRequest
from pymodbus.other_message import ReportSlaveIdRequest
from pymodbus.payload import BinaryPayloadBuilder, BinaryPayloadDecoder
from pymodbus.register_read_message import (
    ReadHoldingRegistersRequest,
    ReadInputRegistersRequest,
    ReadWriteMultipleRegistersRequest,
)
from pymodbus.register_write_message import (
    MaskWriteRegisterRequest,
    WriteMultipleRegistersRequest,
    WriteSingleRegisterRequest,
)
from pymodbus.transaction import ModbusRtuFramer

HIGH_FIRST, LOW_FIRST = Endian.Big, Endian.Little


def main():
    kind, port = sys.argv[1:3]
    framing = {"framer": ModbusRtuFramer} if kind == "rtu-over-tcp" else {}
    client = ModbusTcpClient("127.0.0.1", port=int(port), timeout=2, **framing)
    if not client.connect():
        sys.exit(f"cannot connect to {port}")

    def ask(request, take):
        request.unit_id = 1
        reply = client.execute(request)
        if not reply.isError():
            return take(reply)
        code = getattr(reply, "exception_code", None)
        return {"exception": code} if code is not None else {"failed": str(reply)}

    done = lambda reply: "done"
    words = lambda reply: list(reply.registers)
    bits = lambda count: lambda reply: list(reply.bits[:count])
    value = lambda order, kind: lambda reply: getattr(
        BinaryPayloadDecoder.fromRegisters(reply.registers, byteorder=Endian.Big, wordorder=order), f"decode_{kind}"
    )()

    def built(order, kind, given):
        builder = BinaryPayloadBuilder(byteorder=Endian.Big, wordorder=order)
        getattr(builder, f"add_{kind}")(given)
        return builder.to_registers()

    result = {}
    result["01"] = ask(ReadCoilsRequest(0, 3), bits(3))
    result["02"] = ask(ReadDiscreteInputsRequest(0, 2), bits(2))
    result["03"] = ask(ReadHoldingRegistersRequest(60, 2), words)
    result["04"] = ask(ReadInputRegistersRequest(0, 1), words)
    result["05"] = [ask(WriteSingleCoilRequest(1, True), done), ask(ReadCoilsRequest(0, 3), bits(3))]
    result["06"] = [ask(WriteSingleRegisterRequest(60, 0x0012), done), ask(ReadHoldingRegistersRequest(60, 1), words)]
    result["08"] = ask(ReturnQueryDataRequest(0xA537), lambda reply: reply.message)
    result["15"] = [ask(WriteMultipleCoilsRequest(0, [False, True, True]), done), ask(ReadCoilsRequest(0, 3), bits(3))]
    result["17"] = ask(ReportSlaveIdRequest(), lambda reply: reply.identifier.decode("latin-1"))
    result["22"] = [ask(MaskWriteRegisterRequest(60, 0x00F2, 0x0025), done), ask(ReadHoldingRegistersRequest(60, 1), words)]
    result["23"] = ask(
        ReadWriteMultipleRegistersRequest(read_address=60, read_count=2, write_address=61, write_registers=[9]), words
    )
    result["43/14"] = ask(
        ReadDeviceInformationRequest(0x01, 0),
        lambda reply: {str(key): text.decode() for key, text in reply.information.items()},
    )
    for name, order, where, kind, given in [
        ("float, high word first", HIGH_FIRST, 110, "32bit_float", -1.5),
        ("float, low word first", LOW_FIRST, 112, "32bit_float", 0.1),
        ("integer, high word first", HIGH_FIRST, 114, "32bit_int", -70000),
        ("integer, low word first", LOW_FIRST, 116, "32bit_int", 123456),
    ]:
        result[name] = [
            ask(ReadHoldingRegistersRequest(where, 2), value(order, kind)),
            ask(WriteMultipleRegistersRequest(where, built(order, kind, given)), done),
        ]
    result["exceptions"] = [
        ask(ReadCoilsRequest(500, 1), bits(1)),
        ask(ReadHoldingRegistersRequest(500, 1), words),
        ask(WriteSingleRegisterRequest(500, 1), done),
        ask(WriteSingleRegisterRequest(61, 200), done),
        ask(WriteMultipleRegistersRequest(500, [1]), done),
        ask(MaskWriteRegisterRequest(500, 0, 0), done),
    ]
    client.close()
    print(json.dumps(result))


main()
