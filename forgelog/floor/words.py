"""Short words for facts: what an undo takes back, what a journal line says."""

from __future__ import annotations

from forgelog.floor.names import short_name
from forgelog.work import facts
from forgelog.work.state import State

_WORDS: dict[type, str] = {
    facts.PutInFire: "into the fire",
    facts.TakenOut: "out of the fire",
    facts.HeatOver: "heat over",
    facts.StepFinished: "step done",
    facts.RestStarted: "laid to rest",
    facts.RestEnded: "rest ended",
    facts.RestBrokenOff: "rest broken off",
    facts.RestSkipped: "rest skipped",
    facts.BenchBegun: "bench begun",
    facts.BenchStopped: "bench stopped",
    facts.Assembled: "assembled",
    facts.Gauged: "gauged",
    facts.StepReopened: "step opened again",
    facts.StepSaid: "what it was",
    facts.LaidAside: "laid aside",
    facts.EndCutOff: "end cut off",
    facts.Cracked: "cracked",
    facts.Scrapped: "scrapped",
    facts.MadeAgain: "made again",
    facts.SpareUsed: "spare used",
    facts.SparesAdded: "spares added",
    facts.OrderDelivered: "delivered",
    facts.Swapped: "another piece",
    facts.HeatsCorrected: "heats put right",
    facts.HeatEndedEarlier: "ended earlier",
    facts.CooledInWater: "cooled in water",
    facts.JudgedBy: "judged by",
    facts.LotCounted: "one more done",
    facts.LotSpoilt: "some spoilt",
    facts.ToolSeen: "tool",
    facts.JigSet: "jig set",
    facts.BarChosen: "bar chosen",
    facts.QuoteMade: "price offered",
    facts.QuoteAnswered: "offer answered",
    facts.OrderCost: "cost of the order",
    facts.HoursTold: "hours told",
    facts.Noted: "note",
    facts.SuggestionAccepted: "suggestion taken up",
    facts.SuggestionDeclined: "suggestion declined",
    facts.SuggestionReopened: "suggestion asked for again",
    facts.Stowed: "put by",
    facts.FuelUsed: "fuel",
    facts.BarCut: "bar cut",
    facts.BarNotCut: "bar not cut after all",
    facts.OffcutKept: "offcut kept",
    facts.OffcutUsed: "offcut used",
    facts.CutProved: "cut proved",
    facts.MethodChanged: "method",
    facts.Paused: "pause",
    facts.Resumed: "going on",
    facts.FireLit: "fire lit",
    facts.FireWentOut: "fire out",
    facts.DayEnded: "end of the day",
}

_WEIGHT = (
    facts.DayEnded,
    facts.Scrapped,
    facts.StepFinished,
    facts.StepReopened,
    facts.Gauged,
    facts.HeatOver,
    facts.PutInFire,
    facts.TakenOut,
)


def undo_words(state: State) -> str:
    """What the last press did, in a few words: "step done (strap, left)"."""
    made = state.made_of
    for kind in _WEIGHT:
        for fact in made:
            if isinstance(fact, kind):
                return _said(state, fact)
    return _said(state, made[-1]) if made else "the last press"


def _said(state: State, fact: facts.AnyFact) -> str:
    words = _WORDS.get(type(fact), "the last press")
    piece = state.pieces.get(getattr(fact, "workpiece", ""))
    return f"{words} ({short_name(state, piece)})" if piece is not None else words
