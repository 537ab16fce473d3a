#!/usr/bin/env python3
"""A Modbus server that is not ours: pymodbus with given registers, unit 7.

Usage: pymodbus_server.py tcp PORT | rtu DEVICE, then h0,1,2 (holding from 0), i10:5 (input from 10)
"""

import sys

from pymodbus.datastore import ModbusSequentialDataBlock, ModbusServerContext, ModbusSlaveContext
from pymodbus.server import StartSerialServer, StartTcpServer
from pymodbus.transaction import ModbusRtuFramer


def block(text):
    start, _, values = text.rpartition(":")
    # pymodbus counts registers from 1 unless zero_mode is set
    return ModbusSequentialDataBlock(int(start or 0), [int(value) for value in values.split(",")])


def main():
    kind, where, holding, inputs = sys.argv[1:]
    slave = ModbusSlaveContext(hr=block(holding[1:]), ir=block(inputs[1:]), zero_mode=True)
    context = ModbusServerContext(slaves={7: slave}, single=False)
    if kind == "tcp":
        StartTcpServer(context=context, address=("127.0.0.1", int(where)), allow_reuse_address=True)
    else:
        StartSerialServer(context=context, framer=ModbusRtuFramer, port=where, baudrate=19200)


if __name__ == "__main__":
    main()
