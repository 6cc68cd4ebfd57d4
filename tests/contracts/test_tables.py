"""The tables of materials can be read whole, and every value has its unit, source and basis."""

from underbag.model import materials


def test_every_table_can_be_read() -> None:
    assert len(materials.woods()) >= 50
    for shelf in (materials.boards, materials.adhesives, materials.films, materials.breathers, materials.papers, materials.releases):
        assert len(shelf()) >= 4
