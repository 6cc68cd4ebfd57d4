"""Bags for many jobs: held against trying out everything, and against the check of a single bag."""

from itertools import combinations, product

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from underbag.model.bag.choice import Choice, fewest, one_each, reused
from underbag.model.bag.fit import fit
from underbag.model.bag.needs import Bag, Job, Make, job_of, stepped
from underbag.model.bag.valve import valve_room
from underbag.model.errors import LayupError
from underbag.model.layup.settle import settle
from underbag.model.plan import Plan, plan

TUBE = Make(kind="tube", film="pvc-film", seam=20.0)
JOINED = Make(kind="joined sheets", film="pvc-film", seam=15.0)
STEP = 100.0
BESIDE = st.sampled_from([180.0, 260.0, 380.0])
# areas are compared to a millionth of a square metre: what the solver may leave between whole numbers
CLOSE = 1.0


def jobs(makes: tuple[Make, ...] = (TUBE,), most: int = 6) -> st.SearchStrategy[tuple[Job, ...]]:
    sides = st.floats(50.0, 900.0)
    one = st.builds(
        Job,
        name=st.just("job"),
        make=st.sampled_from(makes),
        along=sides,
        across=sides,
        beside_along=BESIDE,
        beside_across=st.just(180.0),
    )
    return st.lists(one, min_size=1, max_size=most).map(tuple)


def all_sizes(some: tuple[Job, ...]) -> list[Bag]:
    """Every size in steps up to the largest need."""
    top = max(side for job in some for need in job.needs for side in need)
    steps = [STEP * n for n in range(1, int(stepped(top, STEP) / STEP) + 1)]
    makes = {job.make for job in some}
    return [Bag(length=a, width=b, make=make) for make in makes for a, b in product(steps, steps)]


def holds(bag: Bag, job: Job) -> bool:
    """Straight, by plain comparison."""
    return bag.make == job.make and any(a <= bag.length and b <= bag.width for a, b in job.needs)


def film(bag: Bag) -> float:
    assert bag.make is not None
    return bag.make.film_area(bag.length, bag.width)


def brute_cost(some: tuple[Job, ...], most: int) -> tuple[float, float]:
    """Least film for bags that are used again, and for one bag a job, by trying out every set of sizes."""
    cheapest: dict[tuple[bool, ...], Bag] = {}
    for bag in all_sizes(some):
        held = tuple(holds(bag, job) for job in some)
        if any(held) and (held not in cheapest or film(bag) < film(cheapest[held])):
            cheapest[held] = bag
    sizes = [(np.array(held), film(bag)) for held, bag in cheapest.items()]
    again = each = np.inf
    for number in range(1, most + 1):
        for chosen in combinations(sizes, number):
            pays = np.min([np.where(held, cost, np.inf) for held, cost in chosen], axis=0)
            if np.isfinite(pays).all():
                again = min(again, sum(cost for _, cost in chosen))
                each = min(each, float(pays.sum()))
    return again, each


@settings(max_examples=40)
@given(jobs(most=5), st.integers(1, 3))
def test_no_other_sizes_of_one_make_take_less_film(some: tuple[Job, ...], most: int) -> None:
    again, each = brute_cost(some, most)
    assert reused(some, step=STEP, most=most).film == pytest.approx(again, abs=CLOSE)
    assert one_each(some, most, step=STEP).film == pytest.approx(each, abs=CLOSE)


@settings(max_examples=25)
@given(jobs((TUBE, JOINED), most=4), st.integers(2, 3))
def test_no_other_sizes_of_two_makes_take_less_film(some: tuple[Job, ...], most: int) -> None:
    again, each = brute_cost(some, most)
    assert reused(some, step=STEP, most=most).film == pytest.approx(again, abs=CLOSE)
    assert one_each(some, most, step=STEP).film == pytest.approx(each, abs=CLOSE)


def drawn(number: int, seed: int) -> tuple[Job, ...]:
    """Layups of a busy workshop."""
    random = np.random.default_rng(seed)
    return tuple(
        Job(
            name=f"job {n}",
            make=TUBE,
            along=float(random.uniform(200.0, 2500.0)),
            across=float(random.uniform(150.0, 1300.0)),
            beside_along=float(random.choice([380.0, 430.0, 480.0])),
            beside_across=180.0,
        )
        for n in range(number)
    )


def test_a_solver_of_another_kind_agrees_on_many_jobs() -> None:
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import coo_array, vstack

    some = drawn(24, 7)
    sizes = [bag for bag in all_sizes(some) if any(holds(bag, job) for job in some)]
    useful: dict[tuple[bool, ...], Bag] = {}
    for bag in sorted(sizes, key=film, reverse=True):
        useful[tuple(holds(bag, job) for job in some)] = bag
    bags, n, m = list(useful.values()), len(useful), len(some)
    size, job = np.nonzero([[holds(bag, job) for job in some] for bag in bags])
    ways = len(size)
    row = np.arange(ways)
    ones = np.ones(ways)
    rows = vstack(
        (
            coo_array((ones, (job, n + row)), shape=(m, n + ways)),
            coo_array((np.r_[ones, -ones], (np.r_[row, row], np.r_[n + row, size])), shape=(ways, n + ways)),
            coo_array((np.ones(n), (np.zeros(n, int), np.arange(n))), shape=(1, n + ways)),
        )
    ).tocsr()
    areas = np.array([film(bag) for bag in bags]) / 1e6
    answer = milp(
        np.r_[np.zeros(n), areas[size]],
        integrality=np.r_[np.ones(n), np.zeros(ways)],
        bounds=Bounds(0.0, 1.0),
        constraints=LinearConstraint(
            rows, np.r_[np.ones(m), np.full(ways, -np.inf), 0.0], np.r_[np.ones(m), np.zeros(ways), 4.0]
        ),
        options={"mip_rel_gap": 0.0},
    )
    assert one_each(some, 4, step=STEP).film / 1e6 == pytest.approx(answer.fun, abs=1e-5)


def test_hundreds_of_jobs_are_answered_and_more_sizes_never_take_more_film() -> None:
    some = drawn(200, 3)
    films = [one_each(some, most).film for most in (1, 2, 3, 4)]
    assert films == sorted(films, reverse=True)
    assert reused(some).film <= reused(some, most=1).film


@settings(max_examples=20)
@given(jobs((TUBE, JOINED)), jobs((TUBE, JOINED)))
def test_the_order_of_the_jobs_changes_nothing_and_the_same_question_has_the_same_answer(
    some: tuple[Job, ...], others: tuple[Job, ...]
) -> None:
    every = some + others
    assert one_each(every, 3, step=STEP) == one_each(every, 3, step=STEP)
    assert one_each(every[::-1], 3, step=STEP).film == pytest.approx(
        one_each(every, 3, step=STEP).film, abs=CLOSE
    )
    assert reused(every[::-1], step=STEP).film == pytest.approx(reused(every, step=STEP).film, abs=CLOSE)


@given(jobs())
def test_owned_bags_cost_nothing_and_never_make_it_dearer(some: tuple[Job, ...]) -> None:
    biggest = Bag(length=3000.0, width=3000.0)
    for choice in (reused(some, (biggest,)), one_each(some, 1, (biggest,))):
        assert (choice.film, choice.owned, choice.bags) == (0.0, 1, (biggest,))
    small = Bag(length=700.0, width=600.0)
    assert reused(some, (small,)).film <= reused(some).film + CLOSE
    assert one_each(some, 2, (small,)).film <= one_each(some, 2).film + CLOSE
    assert fewest(some, (small,)) <= fewest(some) == 1


def test_too_few_bags_for_the_makes_are_refused_and_just_enough_are_not() -> None:
    two = tuple(
        Job(name="a", make=make, along=500.0, across=300.0, beside_along=380.0, beside_across=180.0)
        for make in (TUBE, JOINED)
    )
    assert fewest(two) == 2
    assert len(reused(two, most=2).bags) == 2
    with pytest.raises(LayupError, match="2 or more"):
        reused(two, most=1)
    with pytest.raises(LayupError, match="2 or more"):
        one_each(two, 1)


def test_film_of_a_bag_counts_both_sides_and_its_seams() -> None:
    # by hand, for 1000 × 500 with seams of 10: tube 2·500·1010, joined 2·520·1010, taped 2·520·1020, board 520·1020
    areas = {
        "tube": 1_010_000,
        "joined sheets": 1_050_400,
        "taped sheets": 1_060_800,
        "sheet on board": 530_400,
    }
    for kind, area in areas.items():
        assert Make(kind=kind, film="f", seam=10.0).film_area(1000.0, 500.0) == area


def planned(length: float, width: float, caul: str, kind: str) -> Plan:
    return plan(
        settle(
            {"panel": {"length": length, "width": width}, "caul": {"material": caul}, "bag": {"kind": kind}}
        )
    )


@settings(max_examples=15)
@given(
    st.lists(
        st.tuples(
            st.floats(150.0, 2000.0),
            st.floats(100.0, 1200.0),
            st.sampled_from(["MDF", "none"]),
            st.sampled_from(["tube", "taped sheets"]),
        ),
        min_size=1,
        max_size=4,
    ),
    st.floats(400.0, 2500.0),
    st.floats(300.0, 1500.0),
)
def test_no_bag_is_chosen_that_the_fit_check_refuses(
    sizes: list[tuple[float, float, str, str]], length: float, width: float
) -> None:
    plans = [planned(*size) for size in sizes]
    some = tuple(job_of(made.layup.title, made.bag, made.chosen.film.key) for made in plans)
    owned = (Bag(length=length, width=width),)
    for choice in (reused(some, owned), one_each(some, 3, owned)):
        demand_fit(choice, plans)
    for made, job in zip(plans, some, strict=True):
        held = fit(made.layup, made.bag, valve_room(made.layup, made.stack), width, length)
        assert job.way_into(length, width) == (held.best.name if held.best else None)


def demand_fit(choice: Choice, plans: list[Plan]) -> None:
    for made, one in zip(plans, choice.placed, strict=True):
        bag = choice.bags[one.bag]
        held = fit(made.layup, made.bag, valve_room(made.layup, made.stack), bag.width, bag.length)
        assert held.best is not None
        assert held.best.name == one.way
        assert one.waste >= 0.0
