#!/usr/bin/env python3
"""Measures the time from start to the first prompt in a terminal of its own, eleven times (aim: 50 ms).

Needs: Python 3 on a Unix, and the release binary (cargo build --release).
"""
import os
import pty
import select
import statistics
import tempfile
import time

def once():
    home=tempfile.mkdtemp()
    t=time.time(); pid,fd=pty.fork()
    if pid==0:
        os.environ.update(HOME=home,TERM='xterm'); os.environ.pop('XDG_STATE_HOME',None)
        os.execv(os.path.join(os.path.dirname(os.path.abspath(__file__)), '..', 'target', 'release', 'shakedown'),['shakedown'])
    buf=b''
    while b'> ' not in buf:
        r,_,_=select.select([fd],[],[],5)
        if not r: break
        buf+=os.read(fd,4096)
    d=time.time()-t
    os.write(fd,b'\x04'); 
    try:
        while os.read(fd,4096): pass
    except OSError: pass
    os.waitpid(pid,0)
    return d*1000
x=[once() for _ in range(11)]
print('first prompt ms: median %.1f max %.1f'%(statistics.median(x),max(x)))
