"""Ids: an order is the device and a random tail; a workpiece is order / component / serial."""

from __future__ import annotations


def workpiece_id(order: str, component: str, serial: int) -> str:
    """The id of one real lump of steel. A serial is never used again within its order.

    >>> workpiece_id("anvil-3f9q", "strap", 2)
    'anvil-3f9q/strap/2'
    """
    return f"{order}/{component}/{serial}"
