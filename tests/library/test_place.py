"""Where a library lies, and what is said about it."""

from __future__ import annotations

from pathlib import Path

import pytest

from diagnose.errors import BadInput
from diagnose.library.place import FILE_NAME, default_folder, on_network_drive, place


def test_without_a_name_it_lies_in_the_folder_of_the_user() -> None:
    assert place().file == default_folder() / FILE_NAME
    assert place().earlier == default_folder() / "cases"


def test_a_folder_holds_it_and_a_file_is_it(tmp_path: Path) -> None:
    assert place(tmp_path).file == tmp_path / FILE_NAME
    assert place(tmp_path / "not there yet").file == tmp_path / "not there yet" / FILE_NAME
    assert place(tmp_path / "shop.db").file == tmp_path / "shop.db"


@pytest.mark.parametrize("scheme", ["postgresql", "postgres", "postgresql+psycopg"])
def test_a_password_is_never_shown(scheme: str) -> None:
    found = place(f"{scheme}://mk:secret@bench-2:5433/shop?sslmode=require&password=secret")
    assert found.url.password == "secret"
    assert "secret" not in found.shown
    assert found.shown == "postgresql://mk@bench-2:5433/shop"


@pytest.mark.parametrize("typed", ["mysql://a/b", "http://shop", "postgresql://a:port/x"])
def test_another_kind_of_address_is_refused(typed: str) -> None:
    with pytest.raises(BadInput, match="--library"):
        place(typed)


# What /proc/mounts says is set down in proc(5) and fstab(5): device, mount point with octal escapes, type, options.
MOUNTS = """\
/dev/sda1 / ext4 rw 0 0
server:/export /mnt/shop nfs4 rw,vers=4.2 0 0
//nas/cases /mnt/shop/deep\\040folder cifs rw 0 0
/dev/sdb1 /mnt/shop/local ext4 rw 0 0
me@host:/x /home/me/far fuse.sshfs rw 0 0
broken line
"""


@pytest.mark.parametrize(
    ("path", "kind"),
    [
        ("/srv/library.db", ""),
        ("/mnt/shop/library.db", "nfs4"),
        ("/mnt/shop/deep folder/library.db", "cifs"),
        ("/mnt/shop/local/library.db", ""),
        ("/mnt/shopping/library.db", ""),
        ("/home/me/far/library.db", "fuse.sshfs"),
    ],
)
def test_a_network_drive_is_told_from_the_mounts(tmp_path: Path, path: str, kind: str) -> None:
    mounts = tmp_path / "mounts"
    mounts.write_text(MOUNTS)
    assert on_network_drive(Path(path), mounts) == kind


def test_where_the_system_does_not_tell_nothing_is_said(tmp_path: Path) -> None:
    assert on_network_drive(tmp_path, tmp_path / "no such file") == ""
