"""A Modbus RTU slave of pymodbus on one serial port, unit 17, for pymodbus-slave.test.ts. Says "ready" once it listens."""
import asyncio
import sys

from pymodbus.constants import Endian
from pymodbus.datastore import ModbusSequentialDataBlock, ModbusServerContext, ModbusSlaveContext
from pymodbus.device import ModbusDeviceIdentification
from pymodbus.payload import BinaryPayloadBuilder
from pymodbus.server import StartAsyncSerialServer
from pymodbus.transaction import ModbusRtuFramer

both_orders = []
for kind, given in (("32bit_float", -1.5), ("32bit_int", -70000)):
    for order in (Endian.Big, Endian.Little):
        builder = BinaryPayloadBuilder(byteorder=Endian.Big, wordorder=order)
        getattr(builder, f"add_{kind}")(given)
        both_orders += builder.to_registers()

unit = ModbusSlaveContext(
    co=ModbusSequentialDataBlock(0, [i % 3 == 0 for i in range(200)]),
    di=ModbusSequentialDataBlock(0, [i % 2 == 1 for i in range(200)]),
    hr=ModbusSequentialDataBlock(0, [1000 + i for i in range(190)] + both_orders),
    ir=ModbusSequentialDataBlock(0, [2000 + i for i in range(200)]),
    zero_mode=True,
)
identity = ModbusDeviceIdentification(info={0: "Test vendor", 1: "Test code", 2: "1.2.3"})


async def main():
    server = asyncio.ensure_future(
        StartAsyncSerialServer(
            context=ModbusServerContext(slaves={17: unit}, single=False),
            identity=identity,
            framer=ModbusRtuFramer,
            port=sys.argv[1],
            baudrate=115200,
            parity="N",
            timeout=0.005,
            ignore_missing_slaves=True,
        )
    )
    await asyncio.sleep(0.2)
    print("ready", flush=True)
    await server


asyncio.run(main())
