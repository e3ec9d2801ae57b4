"""A kind of piece: its parts, its joint map, and what a healthy one carries."""

from typing import Annotated, Literal, Self

from pydantic import BeforeValidator, Field, model_validator
from pydantic_core import PydanticCustomError

from diagnose import words
from diagnose.rulebase.entries.base import Entry, Id, Model, Text, as_tuple

Length = Annotated[float, Field(gt=0)]
Place = Annotated[float, Field(ge=0, le=100)]


class Part(Model):
    """Count, section (thickness, width) and length in mm, assumed until measured; what the part carries."""

    count: int = Field(ge=1, le=40)
    section: tuple[Length, Length]
    length: Length | None = None
    carries: Literal["person", "goods", "locates", "shows"]


class Joint(Model):
    """One joint of the map: the two parts it joins, its usual kind first, its usual sizes in mm, its place on the drawing (x right, y down)."""

    id: Id
    joins: tuple[Id, Id]
    kind: Annotated[tuple[str, ...], BeforeValidator(as_tuple)]
    size: dict[str, Length] = Field(default={})
    at: tuple[Place, Place] | None = None


class Piece(Entry):
    """A kind of piece; `group` is the wider word that conditions may use, `drawing` the body form of its joint map.

    `use` tells its owner how it is used once it is whole, `use_gently` how while it carries less than before.
    """

    name: Text
    group: Id
    also_called: tuple[str, ...] = ()
    parts: dict[Id, Part] = Field(min_length=1)
    joints: tuple[Joint, ...] = Field(min_length=1)
    healthy_load: str
    use: str = ""
    use_gently: str = ""
    drawing: str | None = None

    @model_validator(mode="after")
    def _whole(self) -> Self:
        def wrong(message: str) -> PydanticCustomError:
            return PydanticCustomError("piece", "{message}", {"message": message})

        seen: set[str] = set()
        for joint in self.joints:
            if joint.id in seen:
                raise wrong(f"joint {joint.id} is given twice")
            seen.add(joint.id)
            for part in joint.joins:
                if part not in self.parts:
                    raise wrong(f"joint {joint.id} joins {part}, which is not a part of {self.id}")
            for kind in joint.kind:
                if kind not in words.JOINT_KINDS:
                    raise wrong(f"joint {joint.id}: {kind} is not a kind of joint: {', '.join(words.JOINT_KINDS)}")
            if self.drawing is not None and joint.at is None:
                raise wrong(f"joint {joint.id} has no place on the drawing; give it at: [x, y], each 0 to 100")
        if self.drawing is not None and self.drawing not in words.BODY_FORMS:
            raise wrong(f"drawing {self.drawing} is not one of {', '.join(words.BODY_FORMS)}")
        if self.healthy_load not in words.LOADS:
            raise wrong(f"healthy_load {self.healthy_load} is not one of {', '.join(words.LOADS)}")
        return self

    def joint(self, joint_id: str) -> Joint | None:
        """The joint of the map with that id."""
        return next((joint for joint in self.joints if joint.id == joint_id), None)
