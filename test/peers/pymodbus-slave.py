"""A Modbus RTU slave of pymodbus on one serial port, unit 17, for pymodbus-slave.test.ts. Says "ready" once it listens."""
import asyncio
import sys

from pymodbus.datastore import ModbusSequentialDataBlock, ModbusServerContext, ModbusSlaveContext
from pymodbus.device import ModbusDeviceIdentification
from pymodbus.server import StartAsyncSerialServer
from pymodbus.transaction import ModbusRtuFramer

unit = ModbusSlaveContext(
    co=ModbusSequentialDataBlock(0, [i % 3 == 0 for i in range(200)]),
    di=ModbusSequentialDataBlock(0, [i % 2 == 1 for i in range(200)]),
    hr=ModbusSequentialDataBlock(0, [1000 + i for i in range(200)]),
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
