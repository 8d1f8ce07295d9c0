//go:build unix

package store

import (
	"os"
	"os/exec"
	"syscall"
)

// asNobody takes the rights from a process when this one has all of them.
func asNobody(cmd *exec.Cmd) {
	if os.Geteuid() == 0 {
		const nobody = 65534
		cmd.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: nobody, Gid: nobody}}
	}
}
