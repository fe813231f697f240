bayleaf.words("wo",{"work":"0:i;1:1,8;2:1,8","working":"3:4","worm":"3:0,d,f"});
