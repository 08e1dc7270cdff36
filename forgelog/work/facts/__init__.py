"""What happened, in the past tense: the words of the journal.

One press of a key gives one or several facts; they stand or fall together. Facts hold what was
worked out at the time (temperatures, lengths, verdicts), so that a later version's rules never
change an old record. Times are not in the facts: they are the press's.
"""

from __future__ import annotations

import msgspec

from forgelog.work.facts.base import (
    Fact,
    Hot,
    NewPiece,
)
from forgelog.work.facts.bench import (
    Assembled,
    BenchBegun,
    BenchStopped,
    Gauged,
    LotCounted,
    LotSpoilt,
)
from forgelog.work.facts.free import StepSaid
from forgelog.work.facts.heats import (
    CooledInWater,
    HeatEndedEarlier,
    HeatOver,
    HeatsCorrected,
    JudgedBy,
    LaidAside,
    PutInFire,
    StepFinished,
    StepReopened,
    Stowed,
    TakenOut,
)
from forgelog.work.facts.learning import (
    SuggestionAccepted,
    SuggestionDeclined,
    SuggestionReopened,
)
from forgelog.work.facts.money import (
    HoursTold,
    OrderCost,
    QuoteAnswered,
    QuoteMade,
)
from forgelog.work.facts.orders import (
    BarChosen,
    OrderClosed,
    OrderDelivered,
    OrderFreed,
    OrderHeld,
    OrderPromised,
    OrderTaken,
    RecipePinned,
    SizeChanged,
    SparesAdded,
)
from forgelog.work.facts.rack import (
    CutProved,
    OffcutKept,
    OffcutUsed,
)
from forgelog.work.facts.rests import (
    RestBrokenOff,
    RestEnded,
    RestSkipped,
    RestStarted,
)
from forgelog.work.facts.sawing import (
    BarCut,
    BarNotCut,
    SawnPieces,
)
from forgelog.work.facts.session import (
    DayEnded,
    FireLit,
    FireStayed,
    FireWentOut,
    FuelUsed,
    MethodChanged,
    Paused,
    Resumed,
    SessionBegan,
)
from forgelog.work.facts.shop import (
    JigSet,
    Noted,
    ToolSeen,
)
from forgelog.work.facts.trouble import (
    Cracked,
    EndCutOff,
    MadeAgain,
    Scrapped,
    SpareUsed,
    Swapped,
    TakenAnyway,
)
from forgelog.work.facts.undo import (
    Redone,
    Undone,
)
from forgelog.work.moments import Stamp

__all__ = [
    "AnyFact",
    "Assembled",
    "BarChosen",
    "BarCut",
    "BarNotCut",
    "BenchBegun",
    "BenchStopped",
    "CooledInWater",
    "Cracked",
    "CutProved",
    "DayEnded",
    "EndCutOff",
    "Fact",
    "FireLit",
    "FireStayed",
    "FireWentOut",
    "FuelUsed",
    "Gauged",
    "HeatEndedEarlier",
    "HeatOver",
    "HeatsCorrected",
    "Hot",
    "HoursTold",
    "JigSet",
    "JudgedBy",
    "LaidAside",
    "LotCounted",
    "LotSpoilt",
    "MadeAgain",
    "MethodChanged",
    "NewPiece",
    "Noted",
    "OffcutKept",
    "OffcutUsed",
    "OrderClosed",
    "OrderCost",
    "OrderDelivered",
    "OrderFreed",
    "OrderHeld",
    "OrderPromised",
    "OrderTaken",
    "Paused",
    "Press",
    "PutInFire",
    "QuoteAnswered",
    "QuoteMade",
    "RecipePinned",
    "Redone",
    "RestBrokenOff",
    "RestEnded",
    "RestSkipped",
    "RestStarted",
    "Resumed",
    "SawnPieces",
    "Scrapped",
    "SessionBegan",
    "SizeChanged",
    "SpareUsed",
    "SparesAdded",
    "StepFinished",
    "StepReopened",
    "StepSaid",
    "Stowed",
    "SuggestionAccepted",
    "SuggestionDeclined",
    "SuggestionReopened",
    "Swapped",
    "TakenAnyway",
    "TakenOut",
    "ToolSeen",
    "Undone",
]

AnyFact = (
    OrderTaken
    | SizeChanged
    | BarChosen
    | OrderPromised
    | OrderHeld
    | OrderFreed
    | OrderClosed
    | OrderDelivered
    | SparesAdded
    | RecipePinned
    | QuoteMade
    | QuoteAnswered
    | OrderCost
    | HoursTold
    | SessionBegan
    | FireLit
    | FireStayed
    | FireWentOut
    | MethodChanged
    | Paused
    | Resumed
    | DayEnded
    | PutInFire
    | TakenOut
    | HeatOver
    | StepFinished
    | RestStarted
    | RestEnded
    | RestBrokenOff
    | RestSkipped
    | BenchBegun
    | BenchStopped
    | Assembled
    | Gauged
    | StepReopened
    | StepSaid
    | LaidAside
    | EndCutOff
    | Cracked
    | Scrapped
    | SpareUsed
    | MadeAgain
    | Swapped
    | HeatsCorrected
    | HeatEndedEarlier
    | CooledInWater
    | JudgedBy
    | TakenAnyway
    | LotCounted
    | LotSpoilt
    | ToolSeen
    | JigSet
    | BarCut
    | BarNotCut
    | Noted
    | Stowed
    | FuelUsed
    | OffcutKept
    | OffcutUsed
    | CutProved
    | SuggestionAccepted
    | SuggestionDeclined
    | SuggestionReopened
    | Undone
    | Redone
)


class Press(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True):
    """One press of a key: one line of the journal."""

    seq: int
    """From 0 (the session began) upwards, one by one, within the session."""
    at: Stamp
    facts: tuple[AnyFact, ...]
