"""The recommended windows beside the settings of a shop's runs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from diagnose.consult.standing import window_of
from diagnose.model.shop_picture import SettingRuns, ShopPicture

if TYPE_CHECKING:
    from diagnose.consult.consultant import Consultant


def with_windows(of: Consultant, picture: ShopPicture) -> ShopPicture:
    """Return a shop picture with each setting's window for the materials that its cases mostly had."""
    return picture.model_copy(update={"settings": tuple(_with_window(of, runs) for runs in picture.settings)})


def _with_window(of: Consultant, runs: SettingRuns) -> SettingRuns:
    setting = of.base.words.settings.get(runs.setting)
    if setting is None:
        return runs
    told = dict(runs.materials)
    facts = {**told, **{n: v for n, v in of.resolver.material_facts(told).items() if isinstance(v, str)}}
    window = window_of(setting, facts)
    if window is None:
        return runs
    return runs.model_copy(
        update={"window_low": window.low, "window_high": window.high, "window_source": window.source}
    )
