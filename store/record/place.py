"""Where a record lies, and what its first bytes say, read without opening it as a database."""

from __future__ import annotations

import os
import struct
import sys
from pathlib import Path
from typing import NamedTuple

from store.record.faults import FaultKind, fault
from store.record.schema import APPLICATION_ID

MAGIC = b"SQLite format 3\x00"
_HEADER_BYTES = 100
_SHARES = frozenset(
    {"nfs", "nfs4", "cifs", "smb3", "smbfs", "ncpfs", "afs", "afpfs", "webdav", "davfs", "9p", "ceph", "lustre"}
    | {"glusterfs", "vboxsf", "prl_fs", "fuse.vmhgfs-fuse", "fuse.sshfs", "fuse.davfs2", "fuse.rclone"}
    | {"fuse.gvfsd-fuse", "fuse.glusterfs", "fuse.s3fs"}
)
"""File systems that are no local disk: WAL needs memory shared by all who open the file."""


def default_path() -> Path:
    """The usual file in the platform's folder for user data. Makes the folder, which only its owner may enter."""
    import platformdirs  # only a start without a named file needs it

    folder = platformdirs.user_data_path("bothfeet", appauthor=False)
    path = folder / "record.sqlite"
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        if folder.stat().st_mode & 0o077:
            folder.chmod(0o700)
    except OSError:
        raise fault(FaultKind.READ_ONLY_FOLDER, path) from None
    return path


class Header(NamedTuple):
    """What the first hundred bytes of an SQLite file say (its file format, section 1.3). Sizes in bytes."""

    page_size: int
    pages: int
    pages_known: bool
    application_id: int

    @property
    def least_size(self) -> int:
        """The size below which the file was cut short; 0 where the header does not know."""
        return self.page_size * self.pages if self.pages_known else 0


def read_header(path: Path) -> Header | None:
    """The header of an SQLite file; None for an empty file. Raises RecordFault when there is no such file."""
    if path.is_dir():
        raise fault(FaultKind.FOLDER, path)
    try:
        with path.open("rb") as file:
            head = file.read(_HEADER_BYTES)
    except (FileNotFoundError, NotADirectoryError):
        kind = FaultKind.MISSING if path.parent.is_dir() else FaultKind.NO_FOLDER
        raise fault(kind, path) from None
    except PermissionError:
        raise fault(FaultKind.FORBIDDEN, path) from None
    except OSError:
        raise fault(FaultKind.UNREACHABLE, path) from None
    if not head:
        return None
    if not head.startswith(MAGIC[: len(head)]):
        raise fault(FaultKind.NOT_SQLITE, path)
    if len(head) < _HEADER_BYTES:
        raise fault(FaultKind.DAMAGED, path)
    page_size, change_counter, pages = struct.unpack(">H6xII", head[16:32])
    (application_id,) = struct.unpack(">i", head[68:72])
    (valid_for,) = struct.unpack(">I", head[92:96])
    return Header(65536 if page_size == 1 else page_size, pages, change_counter == valid_for, application_id)


def check_header(path: Path) -> bool:
    """Whether a record stands there: False for an empty file. Raises RecordFault where not ours, or cut short."""
    header = read_header(path)
    if header is None:
        return False
    if header.application_id != APPLICATION_ID:
        raise fault(FaultKind.NOT_OURS, path)
    if path.stat().st_size < header.least_size and not unsettled(path):
        raise fault(FaultKind.DAMAGED, path)
    return True


def unsettled(path: Path) -> bool:
    """Whether a journal with content lies beside the file, which has yet to be brought in or taken back."""
    beside = (path.with_name(path.name + ending) for ending in ("-wal", "-journal"))
    return any(journal.exists() and journal.stat().st_size > 0 for journal in beside)


def check_writable(path: Path) -> None:
    """Raise RecordFault when the file, or the folder that its journal needs, may not be written to."""
    if not path.parent.exists():
        raise fault(FaultKind.NO_FOLDER, path)
    if path.exists() and not os.access(path, os.W_OK):
        raise fault(FaultKind.READ_ONLY, path)
    if not os.access(path.parent, os.W_OK | os.X_OK):
        raise fault(FaultKind.READ_ONLY_FOLDER, path)


def on_share(path: Path) -> bool:
    """Whether the file lies on a network share, or on a disk lent by another machine, as far as can be told."""
    whole = path.resolve()
    if sys.platform == "win32":
        return _on_windows_share(whole)
    try:
        mounts = Path("/proc/self/mounts").read_text(encoding="utf-8", errors="replace")
    except OSError:
        return str(whole).startswith(("/Volumes/", "/Network/"))  # macOS: anything mounted is taken for a share
    return share_among(mounts, str(whole))


def share_among(mounts: str, path: str) -> bool:
    """Whether the mount that holds an absolute path is a share; `mounts` is in the format of /proc/self/mounts."""
    longest, kind = "", ""
    for line in mounts.splitlines():
        fields = line.split(" ")
        if len(fields) < 3:
            continue
        point = fields[1].replace("\\040", " ").rstrip("/")
        if (path == point or path.startswith(point + "/")) and len(point) >= len(longest):
            longest, kind = point, fields[2]
    return kind in _SHARES


def _on_windows_share(path: Path) -> bool:
    drive = path.drive
    if drive.startswith("\\\\"):
        return True
    import ctypes

    windll = getattr(ctypes, "windll", None)
    remote = 4  # DRIVE_REMOTE
    return windll is not None and windll.kernel32.GetDriveTypeW(drive + "\\") == remote
