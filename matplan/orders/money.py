"""Money: to how many decimals amounts in a job's currency are rounded and written."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from matplan import catalogue
from matplan.lengths import Multiple, plain_decimal

USUAL_DECIMALS = 2


@dataclass(frozen=True, slots=True)
class Currency:
    """A currency by its ISO 4217 code; amounts in one that no table knows are rounded to two decimals."""

    code: str = ""
    decimals: int = USUAL_DECIMALS

    @classmethod
    def of(cls, code: str) -> Currency:
        """Return the currency that a job names.

        >>> Currency.of("JPY").decimals, Currency.of("KWD").decimals, Currency.of("tokens").decimals
        (0, 3, 2)
        """
        known = catalogue.decimals(code) if code else None
        return cls(code, USUAL_DECIMALS if known is None else known)

    @property
    def minor(self) -> Multiple:
        """The smallest amount that is paid."""
        return Multiple(Fraction(1, 10**self.decimals))

    def rounded(self, amount: Fraction) -> Decimal:
        """Return an amount to the minor unit, halves up."""
        return self.whole(self.minor.nearest(amount))

    def whole(self, amount: Fraction) -> Decimal:
        """Return an amount that has a finite decimal, with all decimals of the currency."""
        exact = Decimal(amount.numerator) / amount.denominator
        return exact if -int(exact.as_tuple().exponent) > self.decimals else round(exact, self.decimals)

    def written(self, amount: Decimal | None) -> str:
        """Return an amount with the decimals of its currency, more where it is finer; "" for no amount.

        >>> Currency.of("EUR").written(Decimal("56.5")), Currency.of("JPY").written(Decimal("1200.00"))
        ('56.50', '1200')
        """
        if amount is None:
            return ""
        fine = -int(amount.normalize().as_tuple().exponent)
        return f"{amount:.{max(fine, self.decimals)}f}"

    def named(self, amount: Decimal) -> str:
        """Return an amount with its currency."""
        return f"{self.written(amount)} {self.code}".rstrip()

    def exact(self, amount: Fraction, *, unit: bool = False) -> str:
        """Return an amount for a sum: exactly, or to four decimals with `about` before it."""
        if 10**6 % amount.denominator == 0:
            text = self.written(self.whole(amount))
        else:
            text = f"about {plain_decimal(amount, max(4, self.decimals))}"
        return f"{text} {self.code}".rstrip() if unit else text
