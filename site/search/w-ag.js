bayleaf.words("ag",{"again":"0:4;1:k","against":"0:6,o;2:9;3:1,8"});
