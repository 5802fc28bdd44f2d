"""The random numbers themselves, against published values and scipy's tests."""

import numpy as np
import pytest
from scipy import stats

from scheduling.compiled import PLAIN
from scheduling.estimates import Fixed, LogNormal, PertBeta
from scheduling.sampling.quantiles import read, read_one, table_of
from scheduling.sampling.uniforms import key_of, uniform, uniforms

SIZE = 200_000
LAWS = {
    "lognormal": (LogNormal(1.0, 0.6, 2.0), stats.lognorm(0.6, scale=np.e)),
    "beta": (PertBeta(2.0, 9.0, 2.0, 4.0, 4.3), stats.beta(2.0, 4.0, 2.0, 7.0)),
}


def test_the_generator_gives_its_published_numbers() -> None:
    """SplitMix64 seeded with 1234567: the values often printed for it, from memory."""
    printed = [
        *(6457827717110365317, 3203168211198807973, 9817491932198370423),
        *(4593380528125082431, 16408922859458223821),
    ]
    drawn = uniforms(np.uint64(1234567), 0, 5)
    assert drawn * 2.0**64 == pytest.approx(printed, rel=1e-15, abs=2.0**12)


def test_numbers_are_even_and_not_joined_to_each_other() -> None:
    """Kolmogorov-Smirnov and Pearson tests of scipy, at one in ten thousand."""
    one = uniforms(key_of(7, "job:weld"), 0, SIZE)
    other = uniforms(key_of(7, "job:fit"), 0, SIZE)
    assert stats.kstest(one, "uniform").pvalue > 1e-4
    assert stats.pearsonr(one, other).pvalue > 1e-4
    assert stats.pearsonr(one[1:], one[:-1]).pvalue > 1e-4


def test_a_sample_is_the_same_however_it_is_parcelled_out() -> None:
    key = key_of(7, "job:weld")
    assert np.array_equal(uniforms(key, 0, 100)[60:], uniforms(key, 60, 40))


@pytest.mark.parametrize("name", LAWS)
def test_tables_keep_to_the_law(name: str) -> None:
    """Quantiles against scipy.stats from one in 500 on, to a thousandth."""
    law, known = LAWS[name]
    chances = np.linspace(0.002, 0.998, 499)
    assert read(table_of(law), chances) == pytest.approx(known.ppf(chances), rel=1e-3)


def test_the_rare_long_job_is_still_as_long_as_it_should_be() -> None:
    """scipy's lognormal at one in 1,000 to one in 100,000: within two in a hundred."""
    law, known = LAWS["lognormal"]
    chances = 1 - np.logspace(-5, -3, 40)
    assert read(table_of(law), chances) == pytest.approx(known.ppf(chances), rel=0.02)


@pytest.mark.parametrize("name", LAWS)
def test_drawn_lengths_follow_the_law(name: str) -> None:
    """Kolmogorov-Smirnov against scipy's distribution, at one in ten thousand."""
    law, known = LAWS[name]
    lengths = read(table_of(law), uniforms(key_of(3, name), 0, SIZE))
    assert stats.kstest(lengths, known.cdf).pvalue > 1e-4


def test_what_is_left_follows_the_law_given_what_has_gone_by() -> None:
    """P(T - s > x | T > s) of scipy's lognormal."""
    law, known = LAWS["lognormal"]
    chances = np.linspace(0.05, 0.95, 19)
    left = law.draw_beyond(np.full(19, 3.0), stats.norm.ppf(chances))
    expected = known.isf(known.sf(3.0) * (1.0 - chances)) - 3.0
    assert left == pytest.approx(expected, rel=1e-9)


def test_no_spread_is_one_length() -> None:
    assert set(read(table_of(Fixed(4.0)), uniforms(np.uint64(1), 0, 50))) == {4.0}


@pytest.mark.skipif(PLAIN, reason="numba is not here: there is only the plain way")
def test_one_by_one_is_the_same_as_all_at_once() -> None:
    from scheduling.compiled import compiled

    @compiled
    def each(table: np.ndarray, key: np.uint64, out: np.ndarray) -> None:
        for s in range(len(out)):
            out[s] = read_one(table, uniform(key, 40 + s))

    key, table, out = key_of(1, "x"), table_of(LAWS["lognormal"][0]), np.empty(5000)
    each(table, key, out)
    assert np.array_equal(out, read(table, uniforms(key, 40, 5000)))
