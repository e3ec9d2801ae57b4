"""A kind of piece: its parts, its joint map, and what a healthy one carries."""

from typing import Annotated, Literal, Self

from pydantic import Field, model_validator
from pydantic_core import PydanticCustomError

from diagnose import words
from diagnose.rulebase.entries.base import Entry, Id, Model, OneOf, OrOne, Text
from diagnose.rulebase.fault import nearest

Length = Annotated[float, Field(gt=0)]
Place = Annotated[float, Field(ge=0, le=100)]
JointKind = Annotated[str, OneOf(words.JOINT_KINDS, "a kind of joint")]


class Part(Model):
    """One kind of part, with its usual sizes, assumed until measured."""

    count: int = Field(ge=1, le=40, description="How many a piece has.")
    section: tuple[Length, Length] = Field(description="Usual thickness and width, mm.")
    length: Length | None = Field(default=None, description="Usual length, mm.")
    carries: Literal["person", "goods", "locates", "shows"] = Field(
        description="What hangs on it: a person's weight, things, the place of other parts, or only looks."
    )
    also_called: tuple[str, ...] = Field(default=(), description="Other names that people use for it on this piece.")


class Joint(Model):
    """One joint of the map."""

    id: Id = Field(description="Its name in case files, as left_side_rail_to_back_leg.")
    joins: tuple[Id, Id] = Field(description="The two parts it joins.")
    kind: Annotated[tuple[JointKind, ...], OrOne()] = Field(description="Its usual kind first.")
    size: dict[str, Length] = Field(default={}, description="Usual sizes, mm, as tenon_length.")
    at: tuple[Place, Place] | None = Field(default=None, description="Its place on the drawing, 0 to 100: x right, y down.")


class Piece(Entry):
    """A kind of piece."""

    name: Text = Field(description="As the shop calls it.")
    group: Id = Field(description="The wider word that conditions may use, as chair.")
    also_called: tuple[str, ...] = Field(default=(), description="Other names that owners use.")
    parts: dict[Id, Part] = Field(min_length=1, description="Its parts, each under its id.")
    joints: tuple[Joint, ...] = Field(min_length=1, description="The joint map.")
    healthy_load: Annotated[str, OneOf(words.LOADS, "a load")] = Field(description="What a healthy one carries.")
    comes_with: tuple[str, ...] = Field(default=(), description="What belongs to it and comes apart from it, as drawers or keys.")
    moves: tuple[str, ...] = Field(default=(), description="What opens, shuts, slides or turns on it, as doors.")
    use: str = Field(
        default="", description="For its owner: how it is used once it is whole, where the usual sentence does not fit."
    )
    use_gently: str = Field(default="", description="For its owner: how it is used while it carries less than before.")
    drawing: Annotated[str, OneOf(words.BODY_FORMS, "a body form")] | None = Field(
        default=None, description="The body form that its joint map is drawn on."
    )

    @model_validator(mode="after")
    def _whole(self) -> Self:
        def wrong(message: str) -> PydanticCustomError:
            return PydanticCustomError("piece", "{message}", {"message": message})

        named: dict[str, str] = {}
        for part, entry in self.parts.items():
            for name in (part, *entry.also_called):
                spoken = " ".join(name.lower().replace("_", " ").split())
                if spoken in named:
                    raise wrong(f"{part} of {self.id} is called {name}, and so is {named[spoken]}; one name means one part")
                named[spoken] = part
        seen: set[str] = set()
        for joint in self.joints:
            if joint.id in seen:
                raise wrong(f"joint {joint.id} is given twice")
            seen.add(joint.id)
            for part in joint.joins:
                if part not in self.parts:
                    raise wrong(f"joint {joint.id} joins {part}, which is not a part of {self.id}; {nearest(part, self.parts)}")
            if self.drawing is not None and joint.at is None:
                raise wrong(f"joint {joint.id} has no place on the drawing; give it at: [x, y], each 0 to 100")
        return self

    def joint(self, joint_id: str) -> Joint | None:
        """The joint of the map with that id."""
        return next((joint for joint in self.joints if joint.id == joint_id), None)
